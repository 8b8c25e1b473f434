/**
 * Weak displaced copies of the pictures: where they stand, how strong they are, whose they are.
 *
 *   faint crossings that agree -> displacement of the marks -> those marks as a leak there -> strength and place
 *
 * A copy is claimed where its marks as a whole stand out of their scatter, and stand where the search saw them.
 */
import { EYES, type Eye } from '../../kernel/eye.ts';
import { compose } from '../../kernel/homography.ts';
import type { Measured } from '../../kernel/measured.ts';
import type { Point } from '../../kernel/point.ts';
import { projectDerivative, type View } from '../../kernel/view.ts';
import { compareStrength, fitStrength, type StrengthSurface } from '../../light/compare-pictures.ts';
import type { Chart } from '../../target/chart.ts';
import { type FaintMark, measureFaintPicture } from '../../vision/faint-picture.ts';
import { type FoundStray, searchStrays } from '../../vision/search-strays.ts';
import { suspectStray } from '../../vision/suspect-stray.ts';
import type { ExaminedShot } from '../shot/examine-shot.ts';
import { placeInFrame } from '../shot/sample-light.ts';
import type { KnownViews, ShotPair, PictureObservations } from './observe-pictures.ts';

export interface Stray extends StrayReach {
  /** Whose picture it is a copy of. */
  readonly eye: Eye;
  /** The lens through which it shows most. */
  readonly lens: Eye;
  /** From the picture to its copy, ih. */
  readonly offset: { readonly x: Measured; readonly y: Measured };
  /** Its light over its picture's, as that one's own lens shows it. */
  readonly strength: Measured;
  readonly marks: number;
}

const MIN_SIGNIFICANCE = 5;
const MIN_MARKS = 6;
/** Its place is measured again from where it was found to stand, until that tells no more than a part of a pixel. */
const ROUNDS = 3;
const SETTLED_PX = 0.3;
/** Two copies of one eye's picture this near to each other are one, seen through both lenses. */
const SAME_IH = 0.02;
/** Beyond the picture its light is carried on by a surface that has no marks there. An assumption of ours. */
const CARRIED_U = 0.05;

export function findStrays(
  shots: ShotPair,
  observations: PictureObservations,
  views: KnownViews,
  chart: Chart,
): Stray[] {
  const surfaces = { left: strongestSurface(observations, 'left'), right: strongestSurface(observations, 'right') };
  const suspected = EYES.filter((lens) => suspectStray(shots[lens], chart, views));
  const found = suspected.flatMap((lens) =>
    searchStrays(shots[lens].pixels, chart, views).flatMap((stray) => {
      const surface = surfaces[stray.eye];
      const measured = surface && measureStray(shots[lens], stray, views[stray.eye], surface, chart);
      return measured ? [{ ...measured, lens }] : [];
    }),
  );
  const byStrength = found.sort((a, b) => b.strength.value - a.strength.value);
  return byStrength.filter((stray, i) => !byStrength.slice(0, i).some((stronger) => isSame(stronger, stray)));
}

function isSame(a: Stray, b: Stray): boolean {
  const apart = Math.hypot(a.offset.x.value - b.offset.x.value, a.offset.y.value - b.offset.y.value);
  return a.eye === b.eye && apart < SAME_IH;
}

/** Strength of an eye's picture over the photograph that shows it most, plain enough to be carried beyond its edge. */
function strongestSurface(observations: PictureObservations, eye: Eye): StrengthSurface | undefined {
  const light = (lens: Eye) => observations[lens][eye].strengths.reduce((sum, { contrast }) => sum + contrast, 0);
  return fitStrength(observations[light('left') >= light('right') ? 'left' : 'right'][eye].strengths, 2);
}

function measureStray(
  { pixels, blur_px }: ExaminedShot,
  { eye, offset, marks }: FoundStray,
  view: View,
  surface: StrengthSurface,
  chart: Chart,
): Omit<Stray, 'lens'> | undefined {
  let at = offset;
  for (let round = 0; round < ROUNDS; round++) {
    const leak = measureFaintPicture(pixels, { ...chart, marks }, eye, displaced(view, at), blur_px);
    if (leak.length < MIN_MARKS) return undefined;
    const strengths = leak.map(({ frame, contrast, contrastU }) => ({
      at: placeInFrame(pixels, frame.centre),
      contrast,
      contrastU,
    }));
    const ratio = compareStrength(strengths, surface, 0);
    if (!(ratio.value > MIN_SIGNIFICANCE * ratio.u)) return undefined;
    const shift = shiftOf(leak, ratio.value, (i) => surface.strengthAt(strengths[i]!.at));
    const moved = inChart(view, at, shift);
    at = { x: at.x + moved.x.value, y: at.y + moved.y.value };
    if (Math.hypot(shift.x.value, shift.y.value) > SETTLED_PX && round + 1 < ROUNDS) continue;
    const placed = { x: { value: at.x, u: moved.x.u }, y: { value: at.y, u: moved.y.u } };
    return {
      eye,
      offset: placed,
      strength: { value: ratio.value, u: Math.hypot(ratio.u, CARRIED_U * ratio.value) },
      marks: leak.length,
      ...reachOfStray(placed, chart.aspect),
    };
  }
  return undefined;
}

function displaced(view: View, { x, y }: Point): View {
  return { ...view, photoFromChart: compose(view.photoFromChart, [1, 0, x, 0, 1, y, 0, 0, 1]) };
}

type Shift = { readonly x: Measured; readonly y: Measured };

/** Mean displacement of the marks from where they were looked for, photo px, each with the contrast that all have. */
function shiftOf(leak: readonly FaintMark[], ratio: number, lightAt: (index: number) => number): Shift {
  const along = (axis: 'x' | 'y'): Measured => {
    let weights = 0;
    let sum = 0;
    for (const [i, { moment, momentU }] of leak.entries()) {
      const contrast = ratio * lightAt(i);
      const weight = (contrast / momentU[axis]) ** 2;
      weights += weight;
      sum += (weight * moment[axis]) / contrast;
    }
    return { value: sum / weights, u: weights ** -0.5 };
  };
  return { x: along('x'), y: along('y') };
}

/** From photo px to ih at the middle of the copy. */
function inChart(view: View, at: Point, { x, y }: Shift): Shift {
  const [xx, xy, yx, yy] = projectDerivative(view, at);
  const determinant = xx * yy - xy * yx;
  const solve = (a: number, b: number, p: Measured, q: Measured): Measured => ({
    value: (a * p.value + b * q.value) / determinant,
    u: Math.hypot(a * p.u, b * q.u) / Math.abs(determinant),
  });
  return { x: solve(yy, -xy, x, y), y: solve(-yx, xx, x, y) };
}

/** How a copy lies to the picture, for masking it: on which side it stands out, how far, and how far it lies upon the picture. */
export interface StrayReach {
  readonly side: 'above' | 'below' | 'left' | 'right';
  readonly beyond_ih: number;
  /** From the picture's edge on that side inwards to the copy's far edge; 0 where it stands clear of the picture. */
  readonly over_ih: number;
}

export function reachOfStray(offset: Stray['offset'], aspect: number): StrayReach {
  const { x, y } = { x: offset.x.value, y: offset.y.value };
  const isUpright = Math.abs(y) >= Math.abs(x) / aspect;
  const size = isUpright ? 1 : aspect;
  const by = isUpright ? y : x;
  const side = isUpright ? (y > 0 ? 'above' : 'below') : x > 0 ? 'right' : 'left';
  return { side, beyond_ih: Math.abs(by), over_ih: Math.max(0, size - Math.abs(by)) };
}
