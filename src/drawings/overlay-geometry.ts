/**
 * Displacement as arrows: from a point of the left-eye picture towards the same point of the right-eye picture, a stated
 * number of times as long. The tip is projected like the foot, so that an oblique view and the camera lens bend both alike.
 */
import type { Eye } from '../kernel/eye.ts';
import type { Point } from '../kernel/point.ts';
import { pixelsPerHeight, project, type View } from '../kernel/view.ts';
import type { FieldEvidence, MeasuredReading, ReadingEvidence, ReadingStray } from '../record/reading.ts';
import { limitBands } from '../record/limit-bands.ts';
import { formatFigures } from '../wording/numbers.ts';
import { translate } from '../wording/translate.ts';
import { chooseExaggeration, EXAGGERATIONS } from './scale.ts';

export interface Arrow {
  /** Photo px. */
  readonly foot: Point;
  readonly tip: Point;
}

/** How the camera saw the picture of one eye. */
export function viewOf({ photo_from_chart, distortion }: ReadingEvidence, eye: Eye): View {
  const [x, y] = distortion.centre_px;
  const { k1, k2, radius_px } = distortion;
  return { photoFromChart: photo_from_chart[eye], lens: { centre: { x, y }, radius_px, k1, k2 } };
}

export function makeArrow({ at, photo_px, dx_pct, dy_pct }: FieldEvidence, left: View, exaggeration: number): Arrow {
  const [x, y] = at;
  const base = project(left, { x, y });
  const far = project(left, { x: x + (exaggeration * dx_pct) / 100, y: y + (exaggeration * dy_pct) / 100 });
  const foot = { x: photo_px[0], y: photo_px[1] };
  return { foot, tip: { x: foot.x + far.x - base.x, y: foot.y + far.y - base.y } };
}

/** The longest displacement of the field, percent of the picture height. */
export function longestDisplacement(field: readonly FieldEvidence[]): number {
  return field.reduce((longest, { dx_pct, dy_pct }) => Math.max(longest, Math.hypot(dx_pct, dy_pct)), 0);
}

/** Room of the longest arrow, in picture heights, so that arrows of neighbouring points do not run into each other. */
export const ARROW_ROOM_IH = 0.14;

/**
 * Index into `EXAGGERATIONS`: the scale is anchored at the limit, whose arrow fills the room, so that a good house looks
 * good; only errors beyond the limit are drawn at a smaller one.
 */
export function anchorArrows(reading: MeasuredReading): number {
  const limit_pct = limitBands(reading).worst_vertical_pct?.high ?? 0;
  return chooseExaggeration(Math.max(limit_pct, longestDisplacement(reading.evidence.field)), 100 * ARROW_ROOM_IH);
}

/** How many times as long as the displacement arrows are drawn. */
export function chooseArrowFactor(reading: MeasuredReading): number {
  return EXAGGERATIONS[anchorArrows(reading)]!;
}

/** Photo px for one percent of the picture height, at the picture's centre. */
export function pixelsPerPercent(reading: MeasuredReading): number {
  return pixelsPerHeight(viewOf(reading.evidence, 'left')) / 100;
}

const POINTS_PER_SIDE = 16;

/**
 * The border of a picture, or of a copy displaced by `by` (ih), as a closed line of photo points from its upper left
 * corner on; the camera lens bends it, hence the many points.
 */
export function outlinePicture(view: View, aspect: number, by: Point = { x: 0, y: 0 }): readonly Point[] {
  const half = aspect / 2;
  const corners: readonly Point[] = [
    { x: -half, y: 0.5 },
    { x: half, y: 0.5 },
    { x: half, y: -0.5 },
    { x: -half, y: -0.5 },
  ].map(({ x, y }) => ({ x: x + by.x, y: y + by.y }));
  return corners.flatMap((from, i) => {
    const to = corners[(i + 1) % 4]!;
    return Array.from({ length: POINTS_PER_SIDE }, (_, k) => {
      const t = k / POINTS_PER_SIDE;
      return project(view, { x: from.x + t * (to.x - from.x), y: from.y + t * (to.y - from.y) });
    });
  });
}

/** Where a copy of a picture lies in the photographs: the border of that eye's picture, displaced. */
export interface StrayOutline {
  readonly eye: Eye;
  /** Photo px. */
  readonly outline: readonly Point[];
  /** Where its words stand: its upper left corner. */
  readonly corner: Point;
  readonly words: string;
}

export function outlineStray(
  { eye, offset_ih: [x, y], strength_pct }: ReadingStray,
  { evidence, house }: Pick<MeasuredReading, 'evidence' | 'house'>,
): StrayOutline {
  const outline = outlinePicture(viewOf(evidence, eye), house.aspect, { x, y });
  const words = translate('reading.stray-label', { percent: formatFigures(strength_pct.value) });
  return { eye, outline, corner: outline[0]!, words };
}

/**
 * Which part of a photograph is drawn, and how large.
 *
 *   drawing = scale (photo - corner)      photo px as everywhere: the centre of the first pixel is 0, 0
 *
 * Drawing px are counted from the upper left corner: CSS pixels on the screen, units of the view box on paper.
 */

export interface Viewport {
  /** Screen px for one photo px. */
  readonly scale: number;
  /** The photo point at the stage's upper left corner. */
  readonly corner: Point;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** Photo px, edges: a whole photograph begins at -0.5. */
export interface Region extends Size {
  readonly x: number;
  readonly y: number;
}

export function screenFromPhoto({ scale, corner }: Viewport, p: Point): Point {
  return { x: scale * (p.x - corner.x), y: scale * (p.y - corner.y) };
}
