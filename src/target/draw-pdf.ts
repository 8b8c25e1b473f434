/**
 * A sheet as a one-page PDF. The page's content is written in the sheet's own unit (film millimetres, or ih) under one
 * scaling matrix; y runs up from the sheet's lower edge.
 *
 * PDF has no arcs. Each arc is drawn in pieces of at most 22.5 degrees by cubic curves with handles of
 *
 *   (4/3) tan(t/4) r,   t = angle of the piece
 *
 * which leave the circle by less than 1e-7 of its radius. Greys are sRGB-coded device greys. Guides are a layer of
 * their own (optional content), shown on screen and switched off for printing.
 */
import { PDFDocument, PDFName, PDFString } from '@cantoo/pdf-lib';
import { srgbFromLinear } from '../imaging/srgb.ts';
import { type Arc, type Contour, isArc, pointOnArc, type Shape } from './shapes.ts';
import { GUIDE_WIDTH_MM, type Sheet } from './sheet.ts';

const POINTS_PER_MM = 72 / 25.4;
const PIECE_DEG = 22.5;
const GUIDE_COLOUR = '0.184 0.643 0.643';

export async function drawPdf(sheet: Sheet): Promise<Uint8Array> {
  // No dates and no producer: the same sheet gives the same file.
  const pdf = await PDFDocument.create({ updateMetadata: false });
  pdf.setTitle(sheet.title);
  const unit_pt = sheet.unit_mm * POINTS_PER_MM;
  const { left, right, bottom, top } = sheet.edges;
  const page = pdf.addPage([(right - left) * unit_pt, (top - bottom) * unit_pt]);
  page.node.set(PDFName.of('Contents'), pdf.context.register(pdf.context.flateStream(contentOf(sheet))));
  if (sheet.guides.length > 0) addGuideLayer(pdf, page.node);
  return pdf.save();
}

/** The page's drawing operators. */
export function contentOf(sheet: Sheet): string {
  const unit_pt = sheet.unit_mm * POINTS_PER_MM;
  const { left, bottom } = sheet.edges;
  const lines = ['q', `${write(unit_pt)} 0 0 ${write(unit_pt)} 0 0 cm`];
  for (const { shapes } of sheet.layers) for (const shape of shapes) lines.push(...fillOf(shape, left, bottom));
  if (sheet.guides.length > 0) {
    lines.push('/OC /Guides BDC', `${GUIDE_COLOUR} RG ${write(GUIDE_WIDTH_MM / sheet.unit_mm)} w`);
    for (const { x1, y1, x2, y2 } of sheet.guides) {
      lines.push(`${write(x1 - left)} ${write(y1 - bottom)} m ${write(x2 - left)} ${write(y2 - bottom)} l S`);
    }
    lines.push('EMC');
  }
  return [...lines, 'Q', ''].join('\n');
}

function fillOf({ level, contours }: Shape, left: number, bottom: number): string[] {
  return [`${write(srgbFromLinear(level))} g`, ...contours.map((contour) => outlineOf(contour, left, bottom)), 'f'];
}

function outlineOf(contour: Contour, left: number, bottom: number): string {
  const at = ({ x, y }: { x: number; y: number }) => `${write(x - left)} ${write(y - bottom)}`;
  const steps = contour.flatMap((piece, i) => {
    const start = isArc(piece) ? pointOnArc(piece, piece.from_deg) : piece;
    const move = `${at(start)} ${i === 0 ? 'm' : 'l'}`;
    return isArc(piece) ? [move, ...curvesOf(piece).map((points) => `${points.map(at).join(' ')} c`)] : [move];
  });
  return [...steps, 'h'].join('\n');
}

function curvesOf(arc: Arc) {
  const sweep = arc.to_deg - arc.from_deg;
  const pieces = Math.ceil(Math.abs(sweep) / PIECE_DEG);
  const step_deg = sweep / pieces;
  const handle = (4 / 3) * Math.tan((step_deg * Math.PI) / 180 / 4) * arc.radius;
  return Array.from({ length: pieces }, (_, i) => {
    const [from, to] = [arc.from_deg + i * step_deg, arc.from_deg + (i + 1) * step_deg];
    const [start, end] = [pointOnArc(arc, from), pointOnArc(arc, to)];
    const [along, back] = [
      pointOnArc({ ...arc, radius: handle }, from + 90),
      pointOnArc({ ...arc, radius: handle }, to - 90),
    ];
    return [
      { x: start.x + along.x - arc.x, y: start.y + along.y - arc.y },
      { x: end.x + back.x - arc.x, y: end.y + back.y - arc.y },
      end,
    ];
  });
}

function addGuideLayer(
  pdf: PDFDocument,
  page: PDFDocument['catalog'] | ReturnType<PDFDocument['addPage']>['node'],
): void {
  const { context } = pdf;
  const layer = context.register(
    context.obj({
      Type: 'OCG',
      Name: PDFString.of('Guides (not part of the picture)'),
      Usage: { Print: { PrintState: 'OFF' }, View: { ViewState: 'ON' } },
    }),
  );
  page.set(PDFName.of('Resources'), context.obj({ Properties: { Guides: layer } }));
  pdf.catalog.set(
    PDFName.of('OCProperties'),
    context.obj({
      OCGs: [layer],
      D: {
        ON: [layer],
        Order: [layer],
        AS: [{ Event: 'Print', OCGs: [layer], Category: ['Print'] }],
      },
    }),
  );
}

function write(value: number): string {
  const rounded = Math.round(value * 1e7) / 1e7;
  // PDF numbers have no exponents.
  return Math.abs(rounded) < 1e-6 ? rounded.toFixed(7) : String(rounded);
}
