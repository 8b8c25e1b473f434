/**
 * Each eye's picture in each of two photographs, as marks with a strength and a place.
 *
 * A picture too faint to be found by itself is measured where the other photograph shows it strongly.
 */
import type { Pixels } from '../../imaging/pixels.ts';
import { linearFromSrgb, srgbFromLinear } from '../../imaging/srgb.ts';
import { type Eye, otherEye } from '../../kernel/eye.ts';
import { mean, median } from '../../kernel/statistics.ts';
import { pixelsPerHeight, type View } from '../../kernel/view.ts';
import { fitStrength, type StrengthSurface } from '../../light/compare-pictures.ts';
import type { PlacedStrength } from '../../light/eye-matrix.ts';
import { type Coding, type DarkGround, restoreContrast } from '../../light/restore-clipped-noise.ts';
import { type Chart, MARK_PROPORTIONS } from '../../target/chart.ts';
import { type FaintMark, measureFaintPicture } from '../../vision/faint-picture.ts';
import type { MeasuredMark } from '../../vision/measure-marks.ts';
import type { ExaminedShot } from '../shot/examine-shot.ts';
import { placeInFrame } from '../shot/sample-light.ts';

/** The photographs by the lens they were taken through. */
export type ShotPair = Readonly<Record<Eye, ExaminedShot>>;

/** Fewest unclipped marks that stand for a picture's strength. */
export const MIN_LIT_MARKS = 6;

/** One eye's picture in one photograph: found by itself (marks), or measured where it should be (leak). */
export interface PictureObservation {
  /** Linear light by which the strengths of all its marks may be off alike. */
  readonly commonU: number;
  readonly strengths: readonly PlacedStrength[];
  readonly surface: StrengthSurface | undefined;
  readonly marks: readonly MeasuredMark[];
  readonly leak: readonly FaintMark[];
}

/** The pictures by the lens of the photograph. */
export type PictureObservations = Readonly<Record<Eye, Readonly<Record<Eye, PictureObservation>>>>;

export type KnownViews = Readonly<Record<Eye, View>>;

/** Where each eye's picture lies; `shown` where only one eye's picture is to be seen in both photographs. */
export function viewsOf(shots: ShotPair): KnownViews | { readonly shown: Eye } {
  const left = viewOf(shots, 'left');
  const right = viewOf(shots, 'right');
  if (left && right) return { left, right };
  return { shown: left ? 'left' : 'right' };
}

/** Where each eye's picture is expected in each photograph, by the lens that it was taken through. */
export type ExpectedViews = Readonly<Record<Eye, KnownViews>>;

export function observePictures(shots: ShotPair, views: ExpectedViews, chart: Chart): PictureObservations {
  const through = (lens: Eye) => ({
    left: sightOf(shots[lens], 'left', views[lens], chart),
    right: sightOf(shots[lens], 'right', views[lens], chart),
  });
  return { left: through('left'), right: through('right') };
}

function codingOf({ data, channels, quantization = 0 }: Pixels): Coding {
  const codes = data instanceof Uint8Array ? 255 : 65535;
  const stepAt = (light: number) => linearFromSrgb(srgbFromLinear(Math.min(1, light)) + 1 / codes) - Math.min(1, light);
  return { stepAt, quantization, isColour: channels === 3 };
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

function sightOf(shot: ExaminedShot, eye: Eye, views: KnownViews, chart: Chart): PictureObservation {
  const { pixels, blur_px } = shot;
  if (shot.fit.views[eye]) {
    const marks = shot.marks[eye];
    const unclipped = marks.filter((mark) => !mark.clipped);
    const measured = unclipped.map(({ mark, centre, contrast, contrastU }) => ({
      at: placeInFrame(pixels, centre),
      chart: mark,
      contrast,
      contrastU,
    }));
    const some = { ...chart, marks: unclipped.map(({ mark }) => mark).filter((_, i) => i % EVERY === 0) };
    const ground = groundOf(measureFaintPicture(pixels, some, eye, views[eye], blur_px));
    const { strengths, commonU } = restore(measured, ground, pixels);
    return { commonU, strengths, surface: fitStrength(strengths), marks, leak: [] };
  }
  const shown = shot.marks[otherEye(eye)];
  const perIh_px = pixelsPerHeight(views[eye]);
  const all = measureFaintPicture(pixels, chart, eye, views[eye], blur_px);
  const clear = all.filter((mark) => isInTheClear(mark, shown, perIh_px));
  const leak = clear.length >= MIN_LIT_MARKS ? clear : all;
  const measured = leak.map(({ mark, frame, contrast, contrastU }) => ({
    at: placeInFrame(pixels, frame.centre),
    chart: mark,
    contrast,
    contrastU,
  }));
  const { strengths, commonU, factor } = restore(measured, groundOf(leak), pixels);
  return { commonU, strengths, surface: undefined, marks: [], leak: leak.map((mark) => strengthen(mark, factor)) };
}

/** What the coding took from a faint mark's light it took from its displacement, too. */
function strengthen(mark: FaintMark, factor: number): FaintMark {
  const times = ({ x, y }: FaintMark['moment']) => ({ x: factor * x, y: factor * y });
  return { ...mark, moment: times(mark.moment), momentU: times(mark.momentU) };
}

/** Of so many marks one is enough to know the dark of a picture. */
const EVERY = 6;

/**
 * A leak is measured where the strong picture shows around it and not upon it. Where that is covered or cut off the
 * faint one is too, and its absence there says nothing about the lens.
 */
const NEIGHBOURHOOD_IH = 0.17;

function isInTheClear({ mark, frame }: FaintMark, shown: readonly MeasuredMark[], perIh_px: number): boolean {
  const near = shown.filter((other) => Math.hypot(other.mark.x - mark.x, other.mark.y - mark.y) < NEIGHBOURHOOD_IH);
  const isOverlaid = shown.some(
    ({ mark: other, centre }) =>
      Math.hypot(centre.x - frame.centre.x, centre.y - frame.centre.y) <
      perIh_px * (other.radius + MARK_PROPORTIONS.crossing * mark.radius),
  );
  return near.length >= 2 && !isOverlaid;
}

/** Of the middle mark: one that lettering or grey steps of the strong picture cover is not dark, and scatters by far more. */
function groundOf(marks: readonly FaintMark[]): DarkGround {
  if (marks.length === 0) return { mean: 0, deviation: 0 };
  const deviation = Math.sqrt(median(marks.map(({ darkVariance }) => darkVariance)));
  return { mean: median(marks.map(({ dark }) => dark)), deviation };
}

/** The strength mark by mark, put right for what the file's black and coding took from all of them alike. */
function restore(
  marks: readonly PlacedStrength[],
  ground: DarkGround,
  pixels: Pixels,
): Pick<PictureObservation, 'strengths' | 'commonU'> & { readonly factor: number } {
  if (marks.length === 0) return { strengths: marks, commonU: 0, factor: 1 };
  const measured = mean(marks.map(({ contrast }) => contrast));
  const restored = restoreContrast(measured, ground, codingOf(pixels));
  const factor = measured > 0 ? restored.value / measured : 1;
  const strengths = marks.map((mark) => ({
    ...mark,
    contrast: mark.contrast * factor,
    contrastU: mark.contrastU * factor,
  }));
  return { strengths, commonU: restored.u, factor };
}
