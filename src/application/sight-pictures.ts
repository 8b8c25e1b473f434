/**
 * Each eye's picture in each of two photographs, as marks with a strength and a place.
 *
 * A picture too faint to be found by itself is measured where the other photograph shows it strongly.
 */
import type { Pixels } from '../imaging/pixels.ts';
import { linearFromSrgb } from '../imaging/srgb.ts';
import { type Eye, otherEye } from '../kernel/eye.ts';
import { pixelsPerHeight, type View } from '../kernel/view.ts';
import { fitStrength, type MarkStrength, type StrengthSurface } from '../light/compare-pictures.ts';
import { restoreContrast } from '../light/restore-clipped-noise.ts';
import { type Chart, MARK_PROPORTIONS } from '../target/chart.ts';
import { type LeakMark, measureLeak } from '../vision/measure-leak.ts';
import type { MeasuredMark } from '../vision/measure-marks.ts';
import type { ExaminedShot } from './examine-shot.ts';

/** The photographs by the lens they were taken through. */
export type ShotPair = Readonly<Record<Eye, ExaminedShot>>;

/** Fewest unclipped marks that stand for a picture's strength. */
export const LEAST_LIT_MARKS = 6;

/** One eye's picture in one photograph: found by itself (marks), or measured where it should be (leak). */
export interface Sight {
  /** Linear light between the two darkest codes of the photograph. */
  readonly codingStep: number;
  readonly strengths: readonly MarkStrength[];
  readonly surface: StrengthSurface | undefined;
  readonly marks: readonly MeasuredMark[];
  readonly leak: readonly LeakMark[];
}

/** The pictures by the lens of the photograph. */
export type Sights = Readonly<Record<Eye, Readonly<Record<Eye, Sight>>>>;

export type KnownViews = Readonly<Record<Eye, View>>;

/** Where each eye's picture lies; `shown` where only one eye's picture is to be seen in both photographs. */
export function viewsOf(shots: ShotPair): KnownViews | { readonly shown: Eye } {
  const left = viewOf(shots, 'left');
  const right = viewOf(shots, 'right');
  if (left && right) return { left, right };
  return { shown: left ? 'left' : 'right' };
}

export function sightPictures(shots: ShotPair, views: KnownViews, chart: Chart): Sights {
  const through = (lens: Eye) => ({
    left: sightOf(shots[lens], 'left', views, chart),
    right: sightOf(shots[lens], 'right', views, chart),
  });
  return { left: through('left'), right: through('right') };
}

/** Linear light between the two darkest codes of a photograph. */
export function codingStepOf({ data }: Pixels): number {
  return linearFromSrgb(1 / (data instanceof Uint8Array ? 255 : 65535));
}

/** The view of an eye's picture from the photograph that shows it more strongly. */
function viewOf(shots: ShotPair, eye: Eye): View | undefined {
  const strength = (lens: Eye) => (shots[lens].fit.views[eye] ? meanContrast(shots[lens].marks[eye]) : 0);
  const lens: Eye = strength('left') >= strength('right') ? 'left' : 'right';
  return shots[lens].fit.views[eye];
}

function meanContrast(marks: readonly MeasuredMark[]): number {
  return marks.reduce((sum, mark) => sum + mark.contrast, 0) / Math.max(1, marks.length);
}

function sightOf(shot: ExaminedShot, eye: Eye, views: KnownViews, chart: Chart): Sight {
  const codingStep = codingStepOf(shot.pixels);
  if (shot.fit.views[eye]) {
    const marks = shot.marks[eye];
    const strengths = marks
      .filter((mark) => !mark.clipped)
      .map(({ mark, contrast, contrastU }) => ({ at: mark, contrast, contrastU }));
    return { codingStep, strengths, surface: fitStrength(strengths), marks, leak: [] };
  }
  const shown = shot.marks[otherEye(eye)];
  const perIh_px = pixelsPerHeight(views[eye]);
  const measured = measureLeak(shot.pixels, chart, eye, views[eye], shot.blur_px);
  const clear = measured.filter((mark) => isInTheClear(mark, shown, perIh_px));
  const leak = clear.length >= LEAST_LIT_MARKS ? clear : measured;
  const strengths = restoreLeak(leak);
  return { codingStep, strengths, surface: undefined, marks: [], leak };
}

/**
 * A leak is measured where the strong picture shows around it and not upon it. Where that is covered or cut off the
 * faint one is too, and its absence there says nothing about the lens.
 */
const NEIGHBOURHOOD_IH = 0.17;

function isInTheClear({ mark, frame }: LeakMark, shown: readonly MeasuredMark[], perIh_px: number): boolean {
  const near = shown.filter((other) => Math.hypot(other.mark.x - mark.x, other.mark.y - mark.y) < NEIGHBOURHOOD_IH);
  const isOverlaid = shown.some(
    ({ mark: other, centre }) =>
      Math.hypot(centre.x - frame.centre.x, centre.y - frame.centre.y) <
      perIh_px * (other.radius + MARK_PROPORTIONS.crossing * mark.radius),
  );
  return near.length >= 2 && !isOverlaid;
}

/** The leak's strength mark by mark, put right for what the file's black took from all of them alike. */
function restoreLeak(leak: readonly LeakMark[]): MarkStrength[] {
  const mean = (value: (mark: LeakMark) => number) => leak.reduce((sum, mark) => sum + value(mark), 0) / leak.length;
  const measured = mean(({ contrast }) => contrast);
  const ground = { mean: mean(({ dark }) => dark), blackShare: mean(({ blackShare }) => blackShare) };
  const restored = restoreContrast(measured, ground);
  const factor = measured > 0 ? restored.value / measured : 1;
  // The correction is common to all marks, so its uncertainty must not average out: it is given to each mark times
  // the square root of their number.
  const commonU = restored.u * Math.sqrt(leak.length);
  return leak.map(({ mark, contrast, contrastU }) => ({
    at: mark,
    contrast: contrast * factor,
    contrastU: Math.hypot(contrastU * factor, commonU),
  }));
}
