import { inflateSync } from 'node:zlib';
import { PDFDict, PDFDocument, PDFName, PDFRawStream } from '@cantoo/pdf-lib';
import { describe, expect, it } from 'vitest';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';
import { layoutChart, MARK_PROPORTIONS } from '../../src/target/chart.ts';
import { drawPdf } from '../../src/target/draw-pdf.ts';
import { layoutFilmFrame } from '../../src/target/film-frame.ts';
import { layoutFilmSheet, layoutPictureSheet, type Sheet } from '../../src/target/sheet.ts';

const chart = layoutChart(2.35);
const frame = layoutFilmFrame({ centreToCentre_in: 0.363, aspect: 2.35, upperEye: 'left' });

async function open(sheet: Sheet) {
  const bytes = await drawPdf(sheet);
  const pdf = await PDFDocument.load(bytes, { updateMetadata: false });
  const page = pdf.getPage(0);
  const stream = page.node.Contents();
  if (!(stream instanceof PDFRawStream)) throw new Error('the page has no plain content stream');
  const content = inflateSync(stream.getContents()).toString('latin1');
  return { bytes, pdf, page, content };
}

/** The filled shapes of the content in order: grey and corner points, still in the sheet's unit. */
function fillsOf(content: string) {
  const fills: { grey: number; outlines: { x: number; y: number }[][] }[] = [];
  for (const line of content.split('\n')) {
    const words = line.split(' ');
    const numbers = words.slice(0, -1).map(Number);
    const operator = words.at(-1)!;
    if (operator === 'g') fills.push({ grey: numbers[0]!, outlines: [] });
    if (operator === 'm' && words.length === 3) fills.at(-1)!.outlines.push([]);
    if (['m', 'l', 'c'].includes(operator)) {
      fills
        .at(-1)
        ?.outlines.at(-1)
        ?.push({ x: numbers.at(-2)!, y: numbers.at(-1)! });
    }
  }
  return fills;
}

describe('the film frame as PDF', () => {
  it('has a page of the size of the frame and draws in film millimetres', async () => {
    const { page, content } = await open(layoutFilmSheet(chart, frame));
    expect((page.getWidth() * 25.4) / 72).toBeCloseTo(34.975, 6);
    expect((page.getHeight() * 25.4) / 72).toBeCloseTo(19, 6);
    const [, scale] = /\n([\d.]+) 0 0 \1 0 0 cm\n/.exec(content)!;
    expect(Number(scale)).toBeCloseTo(72 / 25.4, 6);
  });

  it('has every mark where the film frame puts it, to a micrometre, its arcs on their circles', async () => {
    const { content } = await open(layoutFilmSheet(chart, frame));
    const fills = fillsOf(content).filter(({ grey }) => grey === 1);
    const scale_mm = 20.95 / 2.35;
    let worst_mm = 0;
    for (const mark of chart.marks) {
      const sign = mark.eye === 'left' ? 1 : -1;
      const [cx, cy] = [18.735 + mark.x * scale_mm, 9.5 + (sign * 0.363 * 25.4) / 2 + mark.y * scale_mm];
      const found = fills.find(({ outlines }) => Math.hypot(outlines[0]![0]!.x - cx, outlines[0]![0]!.y - cy) < 0.01);
      expect(found, mark.id).toBeDefined();
      const { crossing, ringInner, ringOuter } = MARK_PROPORTIONS;
      const radii = [0, crossing, ringInner, ringOuter].map((part) => part * mark.radius * scale_mm);
      for (const { x, y } of found!.outlines.flat()) {
        const r = Math.hypot(x - cx, y - cy);
        worst_mm = Math.max(worst_mm, Math.min(...radii.map((radius) => Math.abs(radius - r))));
      }
    }
    expect(worst_mm).toBeLessThan(0.001);
  });

  it('keeps the guides in a layer that is not printed', async () => {
    const { pdf, page, content } = await open(layoutFilmSheet(chart, frame));
    const [picture, guides] = content.split('/OC /Guides BDC');
    expect(picture).not.toMatch(/ S$/m);
    expect(guides!.trim().endsWith('EMC\nQ')).toBe(true);
    const properties = page.node.Resources()!.lookup(PDFName.of('Properties'), PDFDict);
    const layer = properties.lookup(PDFName.of('Guides'), PDFDict);
    const print = layer.lookup(PDFName.of('Usage'), PDFDict).lookup(PDFName.of('Print'), PDFDict);
    expect(print.get(PDFName.of('PrintState'))).toEqual(PDFName.of('OFF'));
    expect(pdf.catalog.lookup(PDFName.of('OCProperties'), PDFDict).get(PDFName.of('OCGs'))).toBeDefined();
  });
});

describe('the picture of an eye as PDF', () => {
  it('codes the grey steps in sRGB', async () => {
    const { content } = await open(layoutPictureSheet(chart, 'right'));
    const levels = new Set(fillsOf(content).map(({ grey }) => linearFromSrgb(grey).toFixed(5)));
    expect([...levels].sort()).toEqual(['0.00000', '0.06250', '0.12500', '0.25000', '0.50000', '1.00000']);
  });

  it('writes no number with an exponent, and the same bytes every time', async () => {
    const first = await open(layoutPictureSheet(chart, 'right'));
    expect(first.content).not.toMatch(/\de/);
    expect(first.content).not.toMatch(/NaN|undefined/);
    expect(await drawPdf(layoutPictureSheet(chart, 'right'))).toEqual(first.bytes);
  });

  it('draws arcs as curves that leave the circle by no more than the rounding of the coordinates', async () => {
    const { content } = await open(layoutPictureSheet(chart, 'left'));
    const mark = chart.marks.find(({ eye }) => eye === 'left')!;
    const [cx, cy] = [mark.x + 2.35 / 2, mark.y + 0.5];
    // The first curve of the first mark is part of its crossing.
    const lines = content.split('\n');
    const at = lines.findIndex((line) => line.endsWith(' c'));
    const start = lines[at - 1]!.split(' ').map(Number);
    const [x1, y1, x2, y2, x3, y3] = lines[at]!.split(' ').map(Number) as [
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    const radius = MARK_PROPORTIONS.crossing * mark.radius;
    let worst = 0;
    for (let t = 0; t <= 1; t += 0.05) {
      const [a, b, c, d] = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t ** 2 * (1 - t), t ** 3];
      const x = a * start[0]! + b * x1 + c * x2 + d * x3;
      const y = a * start[1]! + b * y1 + c * y2 + d * y3;
      worst = Math.max(worst, Math.abs(Math.hypot(x - cx, y - cy) / radius - 1));
    }
    // Coordinates are written to 1e-7 ih, 4e-6 of this radius.
    expect(worst).toBeLessThan(5e-6);
  });
});
