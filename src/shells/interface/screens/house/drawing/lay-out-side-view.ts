/**
 * The house from the side, to scale: screen at the left, seats, projector at the right.
 *
 * Drawing units: `width` across, x to the right, y down. The scale is one for lengths and for the height of the picture;
 * how high things stand above the floor is not known to a House and is only hinted at.
 */
import type { HouseLengths } from './read-lengths.ts';

export interface SideView {
  readonly width: number;
  readonly height: number;
  /** Drawing units per metre. */
  readonly scale: number;
  readonly floor: number;
  readonly screen: { readonly x: number; readonly top: number; readonly bottom: number } | null;
  readonly projector: { readonly x: number; readonly y: number } | null;
  readonly nearestRow: { readonly x: number; readonly y: number } | null;
  readonly referenceSeat: { readonly x: number; readonly y: number } | null;
  /** Lines with lengths below the floor, from the screen outwards, shortest first. */
  readonly lengths: readonly {
    readonly of: 'nearest' | 'reference' | 'throw';
    readonly length_m: number;
    readonly from: number;
    readonly to: number;
    readonly y: number;
  }[];
}

const WIDTH = 640;
const MARGIN = 34;
/** Room for each line with a length. */
const LINE = 30;
const LEAST_HALL = 90;
/** A picture much higher than the hall is long would leave no room for the page; it is then drawn smaller. */
const MOST_HALL = 260;
const EYE_HEIGHT_M = 1.15;
const SCREEN_ABOVE_FLOOR_M = 1;

export function layOutSideView(lengths: HouseLengths): SideView | null {
  const { pictureWidth_m, pictureAspect, throw_m, nearestRow_m, referenceSeat_m } = lengths;
  const farthest = Math.max(throw_m ?? 0, nearestRow_m ?? 0, referenceSeat_m ?? 0);
  if (farthest === 0) return null;
  const pictureHeight_m = pictureWidth_m === null ? null : pictureWidth_m / pictureAspect;
  const hall_m = (pictureHeight_m ?? 3) + SCREEN_ABOVE_FLOOR_M;
  const scale = Math.min((WIDTH - 2 * MARGIN) / farthest, MOST_HALL / hall_m);
  const floor = 14 + Math.max(LEAST_HALL, hall_m * scale);
  const across = (metres: number) => MARGIN + metres * scale;
  const up = (metres: number) => floor - metres * scale;
  const top = up(hall_m);
  const bottom = up(SCREEN_ABOVE_FLOOR_M);
  const drawn = (
    [
      ['nearest', nearestRow_m],
      ['reference', referenceSeat_m],
      ['throw', throw_m],
    ] as const
  ).flatMap(([of, length_m]) => (length_m === null ? [] : [{ of, length_m }]));
  const seat = (metres: number | null) =>
    metres === null ? null : { x: across(metres), y: Math.min(up(EYE_HEIGHT_M), floor - 12) };
  return {
    width: WIDTH,
    height: floor + 10 + LINE * drawn.length,
    scale,
    floor,
    screen: pictureHeight_m === null ? null : { x: across(0), top, bottom },
    projector: throw_m === null ? null : { x: across(throw_m), y: top + (bottom - top) * 0.3 },
    nearestRow: seat(nearestRow_m),
    referenceSeat: seat(referenceSeat_m),
    lengths: drawn.map((each, i) => ({
      ...each,
      from: across(0),
      to: across(each.length_m),
      y: floor + 10 + LINE * (i + 0.6),
    })),
  };
}
