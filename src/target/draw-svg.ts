/**
 * A sheet as SVG. Arcs stay arcs; coordinates are written to a millionth of the drawing unit.
 *
 * Drawing unit: a thousandth of the picture height for a picture, a millimetre for film. SVG's y runs down from the
 * sheet's top edge.
 */
import { srgbFromLinear } from '../imaging/srgb.ts';
import type { Point } from '../kernel/point.ts';
import { type Arc, type Contour, isArc, pointOnArc, type Shape } from './shapes.ts';
import { GUIDE_WIDTH_MM, type GuideLine, type Sheet } from './sheet.ts';

const GUIDE_COLOUR = '#2fa4a4';

interface Pen {
  readonly scale: number;
  readonly left: number;
  readonly top: number;
}

export function drawSvg(sheet: Sheet): string {
  const { left, right, bottom, top } = sheet.edges;
  const pen: Pen = { scale: sheet.unit === 'ih' ? 1000 : 1, left, top };
  const [width, height] = [right - left, top - bottom];
  const layers = sheet.layers.map(
    ({ name, shapes }) =>
      `<g id="${name}" fill-rule="nonzero">\n${shapes.map((shape) => pathOf(shape, pen)).join('\n')}\n</g>`,
  );
  const guides =
    sheet.guides.length > 0
      ? [
          `<g id="guides" fill="none" stroke="${GUIDE_COLOUR}" stroke-width="${write((GUIDE_WIDTH_MM / sheet.unit_mm) * pen.scale)}">`,
          '<desc>Not part of the picture: film edges, picture edges and the heights of the perforations. Remove before printing.</desc>',
          ...sheet.guides.map((line) => guideOf(line, pen)),
          '</g>',
        ]
      : [];
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${write(width * sheet.unit_mm)}mm" height="${write(height * sheet.unit_mm)}mm" viewBox="0 0 ${write(width * pen.scale)} ${write(height * pen.scale)}">`,
    `<title>${sheet.title}</title>`,
    ...layers,
    ...guides,
    '</svg>',
    '',
  ].join('\n');
}

function pathOf({ part, level, contours }: Shape, pen: Pen): string {
  const outlines = contours.map((contour) => outlineOf(contour, pen)).join('');
  return `<path data-part="${part}" fill="${greyOf(level)}" d="${outlines}"/>`;
}

function outlineOf(contour: Contour, pen: Pen): string {
  const steps = contour.map((piece, i) => {
    const command = i === 0 ? 'M' : 'L';
    if (!isArc(piece)) return command + at(piece, pen);
    return command + at(pointOnArc(piece, piece.from_deg), pen) + arcOf(piece, pen);
  });
  return `${steps.join('')}Z`;
}

/** In pieces of at most a third of a turn, because SVG cannot draw a full circle with one arc. */
function arcOf(arc: Arc, pen: Pen): string {
  const sweep = arc.to_deg - arc.from_deg;
  const pieces = Math.ceil(Math.abs(sweep) / 120);
  const radius = write(arc.radius * pen.scale);
  // Counter-clockwise is SVG's negative direction.
  const direction = sweep > 0 ? 0 : 1;
  let path = '';
  for (let i = 1; i <= pieces; i++) {
    path += `A${radius} ${radius} 0 0 ${direction} ${at(pointOnArc(arc, arc.from_deg + (sweep * i) / pieces), pen)}`;
  }
  return path;
}

function guideOf({ x1, y1, x2, y2 }: GuideLine, pen: Pen): string {
  return `<path d="M${at({ x: x1, y: y1 }, pen)}L${at({ x: x2, y: y2 }, pen)}"/>`;
}

function at({ x, y }: Point, { left, top, scale }: Pen): string {
  return `${write((x - left) * scale)} ${write((top - y) * scale)}`;
}

function write(value: number): string {
  return String(Math.round(value * 1e6) / 1e6);
}

/** sRGB-coded grey; in percent, because eight bits would round the steps. */
function greyOf(level: number): string {
  if (level === 0) return '#000';
  if (level === 1) return '#fff';
  const coded = `${(100 * srgbFromLinear(level)).toFixed(4)}%`;
  return `rgb(${coded},${coded},${coded})`;
}
