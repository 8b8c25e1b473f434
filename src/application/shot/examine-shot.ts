/**
 * One photograph on its own: which pictures of the target it shows, and where each mark is.
 *
 *   pixels -> detection -> views to a pixel -> marks at full resolution -> views
 *
 * Where one plane and one lens do not hold (a curved screen from aside, a projection lens) the views are bent to where the
 * marks are. They serve to find marks; how the two pictures lie on each other is fitted elsewhere.
 *
 * What forbids an honest measurement is refused here as far as one photograph can tell.
 */
import { type AbsenceCode, explainAbsence } from './explain-absence.ts';
import { type PoseCode, judgePose } from './judge-pose.ts';
import { fitBend, type FittedBend, type PlacedMark } from '../../geometry/fit-bend.ts';
import { type FittedViews, type SeenMark, fitViews } from '../../geometry/fit-views.ts';
import { surveyExposure } from '../../imaging/exposure.ts';
import type { Pixels } from '../../imaging/pixels.ts';
import { type Eye, EYES } from '../../kernel/eye.ts';
import type { Point } from '../../kernel/point.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { median, rootMeanSquare } from '../../kernel/statistics.ts';
import { pixelsPerHeight, project, type View } from '../../kernel/view.ts';
import type { Photo } from '../../photo/photo.ts';
import type { PhotographRole } from '../../record/roles.ts';
import { type Chart, type Mark, MARK_PROPORTIONS } from '../../target/chart.ts';
import { type IdentifiedMark, detectMarks } from '../../vision/detect-marks.ts';
import { isStrongEnough, type MeasuredMark, measureMarks, TYPICAL_BLUR_PX } from '../../vision/measure-marks.ts';
import { loadOpenCv, type OpenCv } from '../../vision/opencv/load-opencv.ts';

export type MarksByEye = Readonly<Record<Eye, readonly MeasuredMark[]>>;

export interface ExaminedShot {
  readonly outcome: 'examined';
  readonly pixels: Pixels;
  /** Views of the pictures that this photograph shows well enough to fit. */
  readonly fit: FittedViews;
  readonly marks: MarksByEye;
  readonly blur_px: number;
  /** Crossing-like places down to faint ones, photo px. */
  readonly places: readonly Point[];
}

/** A photograph of a set, examined. */
export interface ExaminedPhotograph {
  readonly role: PhotographRole;
  readonly photo: Photo;
  readonly shot: ExaminedShot;
}

export type ShotRefusal = Refusal<
  AbsenceCode | PoseCode | 'too-few-marks' | 'inconsistent-marks' | 'blurred' | 'overexposed'
>;

/** Identified marks of one eye that are enough to fit its view to. */
export const MIN_SEEDS = 6;
/** A picture fainter than this part of the other one is left to be measured as a leak, where it should be. */
export const FAINT = 0.1;
/** Part of an eye's marks that must be found for a measurement. */
const MIN_PART = 0.5;
/** Softest edges that are measured, as a part of the larger marks' crossing radius. */
export const MAX_BLUR = 0.2;
/**
 * Part of the marks that may be clipped: sharpening and steep tones clip the rims of most, whose places stay good. The rest
 * tell how strong the picture is.
 */
const MAX_CLIPPED = 0.85;
const FEWEST_LIT = 6;
/** A stronger picture this faint, in linear light, may be the leak of one that is burnt out. */
const FAINT_LIGHT = 0.3;
/** Part of the picture area that the target lights, and part that may be burnt out whatever the marks show. */
const BRIGHT_PART = 0.08;
const MAX_BURNT_OUT = 0.25 * BRIGHT_PART;
/** Part of a whole photograph that a burnt-out target fills at least, and lamps and exit signs do not. */
const BURNT_PHOTO = 0.005;
/** Root mean square misfit of the marks against a flat target, as a part of the picture height. */
const MAX_MISFIT_IH = 0.004;
/** Rough centres as they are read are good to about so much. */
const SEED_VARIANCE_PX2 = 1;
/** Measured places are followed by a bend within so much, px: what is smoother than it is left to whoever fits them. */
const FOLLOWED_PX = 0.3;
/** A view is bent where its marks lie off the plane by this many times more than off the bend, and by so many px. */
const BENT_TIMES = 2;
const BENT_PX = 0.2;

/** Without `cv` only a quick look is taken, whose refusals are not final. */
export function examineShot(cv: OpenCv | undefined, pixels: Pixels, chart: Chart): ExaminedShot | ShotRefusal {
  const detection = detectMarks(cv, pixels, chart);
  const upright = detection.marks.filter((mark) => !mark.mirrored);
  const reversed = detection.marks.filter((mark) => mark.mirrored);
  if (reversed.length >= MIN_SEEDS && reversed.length > upright.length) return refuse('mirrored');

  const seeds = fitSeeds(upright, pixels);
  if (!seeds) return explainAbsence(pixels, detection, upright.length);
  const pose = judgePose(seeds);
  // A picture burnt out beyond reading leaves a handful of wrong words, which agree on some absurd pose.
  const { clippedFraction } = pose ? surveyExposure(pixels) : { clippedFraction: 0 };
  if (clippedFraction > BURNT_PHOTO) return refuse('overexposed', { clipped_pct: 100 * clippedFraction });
  if (pose) return pose;

  const identified = placeSeeds(upright);
  const rough = measureEyes(pixels, chart, bendViews(seeds, identified, chart, 1));
  const roughFit = fitMarks(rough, pixels, seeds);
  if (!roughFit) return refuse('too-few-marks', countFacts(rough, chart));
  // Marks that the rough view predicted badly (the corners, where the lens bends most) are tried once more.
  const marks = completeMarks(pixels, chart, bendViews(roughFit, [...placeMarks(rough), ...identified], chart), rough);
  const plane = marks === rough ? roughFit : (fitMarks(marks, pixels, roughFit) ?? roughFit);
  const fit = bendToMarks(plane, marks, chart);
  return judgeMarks(pixels, chart, fit, marks, detection.places);
}

/** Views of the eyes with enough identified marks; `undefined` when there is none. */
export function fitSeeds(identified: readonly IdentifiedMark[], pixels: Pixels): FittedViews | undefined {
  const ofEye = (eye: Eye) => identified.filter(({ mark }) => mark.eye === eye);
  const strength = (eye: Eye) => {
    const own = ofEye(eye);
    return own.length < MIN_SEEDS ? 0 : median(own.map(({ contrast }) => contrast));
  };
  const strongest = Math.max(strength('left'), strength('right'));
  const seen = EYES.flatMap((eye) => (strength(eye) > FAINT * strongest ? ofEye(eye) : [])).map(
    ({ mark, centre }): SeenMark => ({
      eye: mark.eye,
      at: mark,
      seen: centre,
      covariance: [SEED_VARIANCE_PX2, 0, SEED_VARIANCE_PX2],
    }),
  );
  if (seen.length === 0) return undefined;
  const fit = fitViews(seen, pixels);
  if (fit.outcome === 'refused') return undefined;
  const agreeing = fit.used.filter(Boolean).length;
  return agreeing >= MIN_SEEDS && agreeing > seen.length / 2 ? fit : undefined;
}

function measureEyes(pixels: Pixels, chart: Chart, fit: FittedViews): MarksByEye {
  const measure = (eye: Eye) => {
    const view = fit.views[eye];
    return view ? measureMarks(pixels, marksOf(chart, eye), view, TYPICAL_BLUR_PX) : [];
  };
  return { left: measure('left'), right: measure('right') };
}

/** Tries the missing marks again; the same object where none is missing or found. */
function completeMarks(pixels: Pixels, chart: Chart, fit: FittedViews, marks: MarksByEye): MarksByEye {
  const blur_px = blurOf(marks);
  const complete = (eye: Eye) => {
    const found = new Set(marks[eye].map(({ mark }) => mark.id));
    const missing = marksOf(chart, eye).filter(({ id }) => !found.has(id));
    const view = fit.views[eye];
    if (!view || missing.length === 0 || marks[eye].length < MIN_SEEDS) return marks[eye];
    const usual = median(marks[eye].map((mark) => mark.contrast));
    const more = measureMarks(pixels, missing, view, blur_px).filter((mark) => isStrongEnough(mark, usual));
    return more.length === 0 ? marks[eye] : [...marks[eye], ...more];
  };
  const completed = { left: complete('left'), right: complete('right') };
  return completed.left === marks.left && completed.right === marks.right ? marks : completed;
}

function placeSeeds(identified: readonly IdentifiedMark[]): PlacedMark[] {
  const u_px = Math.sqrt(SEED_VARIANCE_PX2);
  return identified.map(({ mark, centre }) => ({ eye: mark.eye, at: mark, seen: centre, u_px }));
}

function placeMarks(marks: MarksByEye): PlacedMark[] {
  return seenMarks(marks).map(({ eye, at, seen }) => ({ eye, at, seen, u_px: FOLLOWED_PX }));
}

/** The views of a fit, bent to where marks were found, each where it has to be. */
function bendViews(fit: FittedViews, placed: readonly PlacedMark[], chart: Chart, least_px = BENT_PX): FittedViews {
  const views = { ...fit.views };
  for (const eye of fit.eyes) {
    const own = placed.filter((mark) => mark.eye === eye);
    const bent = bendView(fit.views[eye]!, own, chart, least_px);
    if (bent) views[eye] = bent.view;
  }
  return { ...fit, views };
}

/** The same with residuals from the bent views, and with the marks that agree with them. */
function bendToMarks(fit: FittedViews, marks: MarksByEye, chart: Chart): FittedViews {
  const views = { ...fit.views };
  const residuals: Point[] = [];
  const used: boolean[] = [];
  for (const eye of EYES.filter((of) => fit.eyes.includes(of))) {
    const own = placeMarks(marks).filter((mark) => mark.eye === eye);
    const bent = bendView(fit.views[eye]!, own, chart, BENT_PX);
    if (bent) views[eye] = bent.view;
    const first = residuals.length;
    residuals.push(...(bent?.residuals ?? fit.residuals.slice(first, first + own.length)));
    used.push(...(bent?.agreeing ?? fit.used.slice(first, first + own.length)));
  }
  return { ...fit, views, residuals, used };
}

function bendView(view: View, own: readonly PlacedMark[], chart: Chart, least_px: number): FittedBend | undefined {
  const found = fitBend(own, view, chart.aspect);
  if (!found) return undefined;
  const counted = own.filter((_, i) => found.agreeing[i]);
  const miss = (by: View) => rootMeanSquare(counted.map((mark) => missOf(by, mark)));
  const off_px = miss(view);
  return off_px > least_px && off_px > BENT_TIMES * miss(found.view) ? found : undefined;
}

function missOf(view: View, { at, seen }: PlacedMark): number {
  const place = project(view, at);
  return Math.hypot(seen.x - place.x, seen.y - place.y);
}

function strongerEye({ left, right }: MarksByEye): Eye {
  const strength = (marks: readonly MeasuredMark[]) => marks.reduce((sum, mark) => sum + mark.contrast, 0);
  return strength(left) >= strength(right) ? 'left' : 'right';
}

function marksOf(chart: Chart, eye: Eye): readonly Mark[] {
  return chart.marks.filter((mark) => mark.eye === eye);
}

/** All measured marks as they go into a fit. */
export function seenMarks(marks: MarksByEye): SeenMark[] {
  return EYES.flatMap((eye) =>
    marks[eye].map(({ mark, centre, covariance }) => ({ eye, at: mark, seen: centre, covariance })),
  );
}

function fitMarks(marks: MarksByEye, pixels: Pixels, earlier: FittedViews): FittedViews | undefined {
  const enough = {
    left: marks.left.length >= MIN_SEEDS ? marks.left : [],
    right: marks.right.length >= MIN_SEEDS ? marks.right : [],
  };
  const seen = seenMarks(enough);
  if (seen.length === 0) return undefined;
  const fit = fitViews(seen, pixels, earlier);
  return fit.outcome === 'estimated' ? fit : undefined;
}

function blurOf(marks: MarksByEye): number {
  return median([...marks.left, ...marks.right].map((mark) => mark.blur_px));
}

function countFacts(marks: MarksByEye, chart: Chart): Refusal<string>['facts'] {
  const eye = strongerEye(marks);
  return { found: marks[eye].length, needed: Math.ceil(MIN_PART * marksOf(chart, eye).length) };
}

function judgeMarks(
  pixels: Pixels,
  chart: Chart,
  fit: FittedViews,
  marks: MarksByEye,
  places: readonly Point[],
): ExaminedShot | ShotRefusal {
  const all = [...marks.left, ...marks.right];
  const blur_px = blurOf(marks);
  const perIh_px = pixelsPerHeight(fit.views[fit.eyes[0]]!);
  const largest = Math.max(...chart.marks.map((mark) => mark.radius));
  const limit_px = MAX_BLUR * MARK_PROPORTIONS.crossing * largest * perIh_px;
  if (blur_px > limit_px) return refuse('blurred', { blur_px, limit_px });

  const clipped = all.filter((mark) => mark.clipped).length / all.length;
  const lit = marks[strongerEye(marks)].filter((mark) => !mark.clipped).length;
  if (clipped > MAX_CLIPPED || lit < FEWEST_LIT) return refuse('overexposed', { clipped_pct: 100 * clipped });
  if (median(all.map((mark) => mark.contrast)) < FAINT_LIGHT) {
    // Burnt out far enough the stronger picture cannot be read at all, and only the leak's marks are left.
    const burntOut_px = surveyExposure(pixels).clippedFraction * pixels.width * pixels.height;
    const burntOut = burntOut_px / (perIh_px ** 2 * chart.aspect);
    if (burntOut > MAX_BURNT_OUT) return refuse('overexposed', { clipped_pct: (100 * burntOut) / BRIGHT_PART });
  }

  const facts = countFacts(marks, chart);
  if (Number(facts.found) < Number(facts.needed)) return refuse('too-few-marks', facts);

  const kept = fit.residuals.filter((_, i) => fit.used[i]);
  const misfit_px = Math.sqrt(kept.reduce((sum, r) => sum + r.x * r.x + r.y * r.y, 0) / Math.max(1, kept.length));
  const outlying = 1 - kept.length / fit.residuals.length;
  if (misfit_px > MAX_MISFIT_IH * perIh_px || outlying > 1 / 3) {
    return refuse('inconsistent-marks', { misfit_px, outlying_pct: 100 * outlying });
  }
  return { outcome: 'examined', pixels, fit, marks, blur_px, places };
}

export type Look = ReturnType<typeof examineShot>;

export function examineQuickly(pixels: Pixels, chart: Chart): Look {
  return examineShot(undefined, pixels, chart);
}

/** What the quick look refuses is looked at with a library that takes longer to load than to work. */
export async function examineThoroughly(
  pixels: Pixels,
  chart: Chart,
  quick = examineQuickly(pixels, chart),
): Promise<Look> {
  if (quick.outcome === 'examined') return quick;
  const { cv } = await loadOpenCv();
  return examineShot(cv, pixels, chart);
}
