/** The map of the vertical error over the photographs: shaded bands, hatched where negative, contours with their numbers. */
import type { Contour, ErrorMap } from '../../../../../drawings/error-map.ts';
import { cssColour } from '../../../../../drawings/field-map.ts';
import { type Size, screenFromPhoto, type Viewport } from '../../../../../drawings/overlay-geometry.ts';
import { trace, writeOver } from '../../../../../drawings/overlay-layers.ts';
import type { Point } from '../../../../../kernel/point.ts';
import { formatNumber, formatSigned } from '../../../../../wording/numbers.ts';

/** Shows the photographs through. */
const SHADE = 0.78;
const HATCH_PX = 7;
/** Numbers stand at least this far apart. */
const LABEL_ROOM_PX = 54;

export function drawMap(pen: CanvasRenderingContext2D, map: ErrorMap, view: Viewport): void {
  const hatch = makeHatch(pen);
  for (const { polygons, colour, isNegative } of map.bands) {
    pen.beginPath();
    for (const polygon of polygons) addPolygon(pen, polygon, view);
    pen.globalAlpha = SHADE;
    pen.fillStyle = cssColour(colour);
    pen.fill();
    pen.globalAlpha = 1;
    if (isNegative && hatch) {
      pen.fillStyle = hatch;
      pen.fill();
    }
  }
  pen.lineJoin = 'round';
  for (const { lines, level } of map.contours) {
    const isZero = Math.abs(level) < 1e-9;
    strokeLines(pen, lines, view, isZero ? 2 : 1, 'rgb(255 255 255 / 85%)', []);
  }
  for (const { lines } of map.limits) {
    strokeLines(pen, lines, view, 5, 'rgb(10 11 13 / 80%)', []);
    strokeLines(pen, lines, view, 2.5, '#ffffff', [9, 5]);
  }
}

function addPolygon(pen: CanvasRenderingContext2D, polygon: readonly Point[], view: Viewport): void {
  polygon.forEach((p, i) => {
    const { x, y } = screenFromPhoto(view, p);
    if (i === 0) pen.moveTo(x, y);
    else pen.lineTo(x, y);
  });
  pen.closePath();
}

function strokeLines(
  pen: CanvasRenderingContext2D,
  lines: Contour['lines'],
  view: Viewport,
  width: number,
  colour: string,
  dash: readonly number[],
): void {
  pen.setLineDash([...dash]);
  pen.lineWidth = width;
  pen.strokeStyle = colour;
  for (const line of lines) {
    trace(pen, line, view, false);
    pen.stroke();
  }
  pen.setLineDash([]);
}

/** Each contour's number where the line comes nearest to the middle of the stage, so that zooming in keeps it in sight. */
export function drawMapNumbers(
  pen: CanvasRenderingContext2D,
  { contours, limits, decimals }: ErrorMap,
  view: Viewport,
  stage: Size,
  font: string,
): void {
  pen.font = font;
  const placed: Point[] = [];
  const place = ({ lines }: Contour, words: string) => {
    const width = pen.measureText(words).width;
    const points = lines
      .flat()
      .map((p) => screenFromPhoto(view, p))
      .filter(({ x, y }) => x > width && y > 14 && x < stage.width - width && y < stage.height - 14)
      .toSorted((a, b) => distance(a, stage) - distance(b, stage));
    const free = points.find((p) => placed.every((other) => Math.hypot(other.x - p.x, other.y - p.y) > LABEL_ROOM_PX));
    if (!free) return;
    placed.push(free);
    writeOver(pen, words, { x: free.x - width / 2, y: free.y });
  };
  for (const limit of limits) place(limit, `${formatSigned(limit.level, decimalsOf(limit.level))}′`);
  for (const contour of contours) place(contour, `${signed(contour.level, decimals)}′`);
}

const distance = ({ x, y }: Point, { width, height }: Size) => Math.hypot(x - width / 2, y - height / 2);
const decimalsOf = (value: number) => (Number.isInteger(value) ? 0 : 1);
const signed = (value: number, decimals: number) =>
  Math.abs(value) < 1e-9 ? formatNumber(0, 0) : formatSigned(value, decimals);

/** Dark strokes with a light edge: seen on the darkest and on the palest band. */
function makeHatch(pen: CanvasRenderingContext2D): CanvasPattern | null {
  const density = Math.max(1, Math.round(pen.getTransform().a));
  const side = HATCH_PX * density;
  const canvas = document.createElement('canvas');
  canvas.width = side;
  canvas.height = side;
  const stroke = canvas.getContext('2d')!;
  for (const [shift, colour] of [
    [0, 'rgb(10 11 13 / 75%)'],
    [1.2 * density, 'rgb(255 255 255 / 45%)'],
  ] as const) {
    stroke.strokeStyle = colour;
    stroke.lineWidth = 1.2 * density;
    for (const k of [-side, 0, side]) {
      stroke.beginPath();
      stroke.moveTo(k + shift, side);
      stroke.lineTo(k + side + shift, 0);
      stroke.stroke();
    }
  }
  const pattern = pen.createPattern(canvas, 'repeat');
  pattern?.setTransform(new DOMMatrix().scale(1 / density));
  return pattern;
}
