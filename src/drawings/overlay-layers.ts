/**
 * The layers over the photographs, drawn by any pen: on a canvas of the screen, or into the SVG of a report. The pen's unit is a
 * drawing px; what is given in photo px goes through the viewport.
 */
import type { Point } from '../kernel/point.ts';
import type { MarkEvidence } from '../record/reading.ts';
import { type Arrow, screenFromPhoto, type StrayOutline, type Viewport } from './overlay-geometry.ts';

/** The eyes' colours over photographs, where they add up to white on black. */
export const OVERLAY_LEFT = '#ffad31';
export const OVERLAY_RIGHT = '#00c7fb';

/** What a layer needs of a pen: a canvas has it, and so has `SvgPen`. */
export interface Pen {
  lineWidth: number;
  strokeStyle: unknown;
  fillStyle: unknown;
  lineJoin: 'bevel' | 'miter' | 'round';
  lineCap: 'butt' | 'round' | 'square';
  setLineDash(dash: number[]): void;
  beginPath(): void;
  moveTo(x: number, y: number): void;
  lineTo(x: number, y: number): void;
  /** Whole circles only. */
  arc(x: number, y: number, radius: number, from: number, to: number): void;
  rect(x: number, y: number, width: number, height: number): void;
  closePath(): void;
  fill(): void;
  stroke(): void;
}

/** A pen that writes too. */
export interface LetteringPen extends Pen {
  font: string;
  textBaseline: 'middle' | string;
  measureText(words: string): { readonly width: number };
  strokeText(words: string, x: number, y: number): void;
  fillText(words: string, x: number, y: number): void;
}

/** The stage is dark in both themes, as the photographs are. */
const LIGHT = '#ffffff';
const DARK = 'rgb(10 11 13 / 85%)';
const EYE_COLOUR = { left: OVERLAY_LEFT, right: OVERLAY_RIGHT } as const;

const HEAD_PX = 9;
const MARK_PX = 3.5;

export function drawOutline(pen: Pen, outline: readonly Point[], view: Viewport): void {
  trace(pen, outline, view, true);
  pen.setLineDash([6, 5]);
  pen.lineWidth = 1;
  pen.strokeStyle = 'rgb(255 255 255 / 60%)';
  pen.stroke();
  pen.setLineDash([]);
}

export function drawArrows(pen: Pen, arrows: readonly Arrow[], view: Viewport): void {
  const onScreen = arrows.map(({ foot, tip }) => [screenFromPhoto(view, foot), screenFromPhoto(view, tip)] as const);
  for (const [width, colour] of [
    [5, DARK],
    [2, LIGHT],
  ] as const) {
    pen.strokeStyle = colour;
    pen.fillStyle = colour;
    pen.lineWidth = width;
    pen.lineJoin = 'round';
    for (const [foot, tip] of onScreen) drawArrow(pen, foot, tip, width);
  }
}

/** An arrow too short for a head is a dot: nothing is displaced there by anything that could be seen. */
function drawArrow(pen: Pen, foot: Point, tip: Point, width: number): void {
  const length = Math.hypot(tip.x - foot.x, tip.y - foot.y);
  pen.beginPath();
  if (length < 2) {
    pen.arc(foot.x, foot.y, width * 0.8, 0, 2 * Math.PI);
    pen.fill();
    return;
  }
  const ux = (tip.x - foot.x) / length;
  const uy = (tip.y - foot.y) / length;
  const head = Math.min(HEAD_PX, 0.6 * length);
  const neck = { x: tip.x - head * ux, y: tip.y - head * uy };
  const wing = 0.42 * head;
  pen.moveTo(foot.x, foot.y);
  pen.lineTo(neck.x, neck.y);
  pen.stroke();
  pen.beginPath();
  pen.moveTo(tip.x, tip.y);
  pen.lineTo(neck.x - wing * uy, neck.y + wing * ux);
  pen.lineTo(neck.x + wing * uy, neck.y - wing * ux);
  pen.closePath();
  pen.fill();
  if (width > 2) pen.stroke();
}

/** Marks as dots of their eye's colour, marks left out as crosses, each with its residual `exaggeration` times as long; none for 0. */
export function drawMarks(pen: Pen, marks: readonly MarkEvidence[], view: Viewport, exaggeration: number): void {
  for (const mark of marks) {
    const at = screenFromPhoto(view, { x: mark.photo_px[0], y: mark.photo_px[1] });
    const [rx, ry] = mark.residual_px;
    const stretch = exaggeration * view.scale;
    const end = { x: at.x + stretch * rx, y: at.y + stretch * ry };
    const colour = EYE_COLOUR[mark.eye];
    if (exaggeration > 0) {
      pen.beginPath();
      pen.moveTo(at.x, at.y);
      pen.lineTo(end.x, end.y);
      strokeTwice(pen, 2, colour);
    }
    pen.beginPath();
    if (mark.used) {
      pen.arc(at.x, at.y, MARK_PX, 0, 2 * Math.PI);
      pen.fillStyle = colour;
      pen.lineWidth = 1.5;
      pen.strokeStyle = DARK;
      pen.fill();
      pen.stroke();
    } else {
      drawCross(pen, at, 6);
      strokeTwice(pen, 2.5, colour);
    }
  }
}

/** Four corners about a mark: which one is meant. */
export function drawAim(pen: Pen, p: Point, view: Viewport, half_px: number): void {
  const { x, y } = screenFromPhoto(view, p);
  const arm = half_px * 0.55;
  pen.beginPath();
  for (const [sx, sy] of [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ] as const) {
    pen.moveTo(x + sx * half_px, y + sy * (half_px - arm));
    pen.lineTo(x + sx * half_px, y + sy * half_px);
    pen.lineTo(x + sx * (half_px - arm), y + sy * half_px);
  }
  strokeTwice(pen, 2.5, LIGHT);
}

/** The worst place: a square about it. */
export function drawWorst(pen: Pen, p: Point, view: Viewport): void {
  const { x, y } = screenFromPhoto(view, p);
  pen.beginPath();
  pen.rect(x - 11, y - 11, 22, 22);
  strokeTwice(pen, 2, LIGHT);
}

/** What stands beside the worst place, kept within the stage. */
export function labelWorst(
  pen: LetteringPen,
  p: Point,
  view: Viewport,
  words: string,
  stageWidth: number,
  font: string,
): void {
  const { x, y } = screenFromPhoto(view, p);
  pen.font = font;
  const width = pen.measureText(words).width;
  const isLeft = x + 20 + width > stageWidth;
  writeOver(pen, words, { x: isLeft ? x - 18 - width : x + 18, y: y - 14 });
}

/** The border of a copy of a picture, dotted in that eye's colour, with its words at the corner that stands out most. */
export function drawStray(
  pen: LetteringPen,
  { eye, outline, corner, words }: StrayOutline,
  view: Viewport,
  stageWidth: number,
  font: string,
): void {
  trace(pen, outline, view, true);
  pen.setLineDash([2, 5]);
  pen.lineCap = 'round';
  strokeTwice(pen, 2, EYE_COLOUR[eye]);
  pen.setLineDash([]);
  pen.lineCap = 'butt';
  const { x, y } = screenFromPhoto(view, corner);
  pen.font = font;
  const width = pen.measureText(words).width;
  writeOver(pen, words, { x: Math.min(Math.max(8, x + 8), stageWidth - width - 8), y: Math.max(14, y + 14) });
}

export function writeOver(pen: LetteringPen, words: string, at: Point): void {
  pen.textBaseline = 'middle';
  pen.lineJoin = 'round';
  pen.lineWidth = 4;
  pen.strokeStyle = DARK;
  pen.strokeText(words, at.x, at.y);
  pen.fillStyle = LIGHT;
  pen.fillText(words, at.x, at.y);
}

function drawCross(pen: Pen, { x, y }: Point, half: number): void {
  pen.moveTo(x - half, y - half);
  pen.lineTo(x + half, y + half);
  pen.moveTo(x + half, y - half);
  pen.lineTo(x - half, y + half);
}

function strokeTwice(pen: Pen, width: number, colour: string): void {
  pen.strokeStyle = DARK;
  pen.lineWidth = width + 2.5;
  pen.stroke();
  pen.strokeStyle = colour;
  pen.lineWidth = width;
  pen.stroke();
}

export function trace(pen: Pen, line: readonly Point[], view: Viewport, isClosed: boolean): void {
  pen.beginPath();
  line.forEach((p, i) => {
    const { x, y } = screenFromPhoto(view, p);
    if (i === 0) pen.moveTo(x, y);
    else pen.lineTo(x, y);
  });
  if (isClosed) pen.closePath();
}
