/**
 * Two examined photographs together: which eye each lens sees, how much leaks, and whether the camera kept still.
 *
 * A picture too faint to be found by itself is measured where the other photograph shows it strongly.
 */
import { CERTAIN_CHANCE, checkSteadiness, type Displacement, type Steadiness } from '../geometry/check-steadiness.ts';
import type { Pixels } from '../imaging/pixels.ts';
import { linearFromSrgb, srgbFromLinear } from '../imaging/srgb.ts';
import { EYES, type Eye, otherEye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { median } from '../kernel/statistics.ts';
import { pixelsPerHeight, project, type View } from '../kernel/view.ts';
import { assignEyes, describeEyes, invertRatio, type LensRatios } from '../light/assign-eyes.ts';
import {
  compareStrength,
  fitStrength,
  type MarkStrength,
  meanStrength,
  type StrengthSurface,
} from '../light/compare-pictures.ts';
import type { Eyes, PictureStrengths } from '../light/eyes.ts';
import { restoreContrast } from '../light/restore-clipped-noise.ts';
import { type Chart, CLEARANCE, MARK_PROPORTIONS } from '../target/chart.ts';
import { type LeakMark, measureLeak } from '../vision/measure-leak.ts';
import type { MeasuredMark } from '../vision/measure-marks.ts';
import { searchLeak } from '../vision/search-leak.ts';
import { sightMarks } from '../vision/sight-marks.ts';
import type { ExaminedShot } from './examine-shot.ts';

export interface ComparedShots {
  readonly outcome: 'compared';
  readonly eyes: Eyes;
  /** Undefined where no leak is strong enough to tell. */
  readonly steadiness: Steadiness | undefined;
  /** How far camera or film certainly moved, ih; 0 where nothing is certain. */
  readonly movement_ih: number;
  /** Whether a movement large enough to be refused would have been noticed. */
  readonly isSteadinessKnown: boolean;
}

export type ComparisonRefusal = Refusal<'same-eye-twice' | 'camera-moved' | 'too-few-marks'>;

/** The photographs by the lens they were taken through. */
export type ShotPair = Readonly<Record<Eye, ExaminedShot>>;

/** Fewest unclipped marks that stand for a picture's strength. */
const LEAST_LIT_MARKS = 6;
/** A leak must stand out so many times its uncertainty before its place means anything. */
const LEAST_LEAK_SIGNIFICANCE = 8;
/** A certain movement is refused from this part of the picture height on; a smaller one widens the uncertainty. */
export const MOST_MOVEMENT_IH = 2e-4;

/** One eye's picture in one photograph: found by itself (marks), or measured where it should be (leak). */
interface Sight {
  /** Linear light between the two darkest codes of the photograph. */
  readonly codingStep: number;
  readonly strengths: readonly MarkStrength[];
  readonly surface: StrengthSurface | undefined;
  readonly marks: readonly MeasuredMark[];
  readonly leak: readonly LeakMark[];
}

export function compareShots(shots: ShotPair, chart: Chart): ComparedShots | ComparisonRefusal {
  const views = { left: viewOf(shots, 'left'), right: viewOf(shots, 'right') };
  if (!views.left || !views.right) {
    const shown: Eye = views.left ? 'left' : 'right';
    return refuse('same-eye-twice', { eye: shown });
  }
  const known = views as Record<Eye, View>;
  const sights = {
    left: { left: sightOf(shots.left, 'left', known, chart), right: sightOf(shots.left, 'right', known, chart) },
    right: { left: sightOf(shots.right, 'left', known, chart), right: sightOf(shots.right, 'right', known, chart) },
  };
  const left = ratioOf(sights.left);
  const right = ratioOf(sights.right);
  if (!left || !right) return refuse('too-few-marks', { needed: LEAST_LIT_MARKS });
  const ratios: LensRatios = { left, right };
  const assignment = assignEyes(ratios);
  if (typeof assignment === 'object') return assignment;

  const steadiness = checkSteadiness(EYES.flatMap((eye) => displacementsOf(sights, eye)));
  const moved = judgeMovement(shots, sights, known, chart, steadiness);
  if (moved) return moved;
  const isCertain = steadiness !== undefined && steadiness.chance < CERTAIN_CHANCE;
  const movement_ih = isCertain ? steadiness.movement_px.value / pixelsPerHeight(known.left) : 0;
  const eyes = describeEyes(assignment, ratios, strengthsOf(sights.left), strengthsOf(sights.right));
  const { value, u } = steadiness?.movement_px ?? { value: 0, u: Number.POSITIVE_INFINITY };
  const isSteadinessKnown = isCertain || value + 2 * u < MOST_MOVEMENT_IH * pixelsPerHeight(known.left);
  return { outcome: 'compared', eyes, steadiness, movement_ih, isSteadinessKnown };
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

function sightOf(shot: ExaminedShot, eye: Eye, views: Record<Eye, View>, chart: Chart): Sight {
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

/** Right-eye over left-eye picture in one photograph; `undefined` where too few unclipped marks are left. */
function ratioOf(sight: Readonly<Record<Eye, Sight>>): Measured | undefined {
  const mean = (eye: Eye) => meanStrength(sight[eye].strengths).value;
  const stronger: Eye = mean('left') >= mean('right') ? 'left' : 'right';
  const { surface } = sight[stronger];
  const weaker = sight[otherEye(stronger)].strengths;
  if (!surface || weaker.length < LEAST_LIT_MARKS) return undefined;
  const ratio = compareStrength(weaker, surface, sight[stronger].codingStep);
  // A leak lost in the noise may come out at or below zero; a ratio of it the other way round needs a positive number.
  if (stronger === 'left') return ratio;
  return invertRatio({ value: Math.max(ratio.value, ratio.u, 1e-9), u: ratio.u });
}

function strengthsOf(sight: Readonly<Record<Eye, Sight>>): PictureStrengths {
  return { left: meanStrength(sight.left.strengths), right: meanStrength(sight.right.strengths) };
}

/** Displacements of one eye's marks from the photograph through the left lens to that through the right lens. */
function displacementsOf(sights: Readonly<Record<Eye, Readonly<Record<Eye, Sight>>>>, eye: Eye): Displacement[] {
  const first = placesOf(sights.left, eye);
  const second = placesOf(sights.right, eye);
  return [...first].flatMap(([id, a]) => {
    const b = second.get(id);
    if (!b) return [];
    return [
      {
        at: a.centre,
        shift: { x: b.centre.x - a.centre.x, y: b.centre.y - a.centre.y },
        u: { x: Math.hypot(a.u.x, b.u.x), y: Math.hypot(a.u.y, b.u.y) },
      },
    ];
  });
}

type Placed = Pick<Displacement, 'u'> & { readonly centre: { readonly x: number; readonly y: number } };

/** Where each mark of a picture is seen, px; empty where it is too faint to have a place. */
function placesOf(sight: Readonly<Record<Eye, Sight>>, eye: Eye): Map<string, Placed> {
  const { marks, leak } = sight[eye];
  const places = new Map<string, Placed>();
  for (const { mark, centre, covariance } of marks) {
    places.set(mark.id, { centre, u: { x: Math.sqrt(covariance[0]), y: Math.sqrt(covariance[2]) } });
  }
  const { surface } = sight[otherEye(eye)];
  if (leak.length === 0 || !surface) return places;
  const ratio = compareStrength(sight[eye].strengths, surface, sight[eye].codingStep);
  if (!(ratio.value > LEAST_LEAK_SIGNIFICANCE * ratio.u)) return places;
  for (const { mark, frame, moment, momentU } of leak) {
    // One mark's own contrast is noise; what the leak as a whole says of it is not.
    const contrast = ratio.value * surface.strengthAt(mark);
    places.set(mark.id, {
      centre: { x: frame.centre.x + moment.x / contrast, y: frame.centre.y + moment.y / contrast },
      u: { x: momentU.x / contrast, y: momentU.y / contrast },
    });
  }
  return places;
}

function judgeMovement(
  shots: ShotPair,
  sights: Readonly<Record<Eye, Readonly<Record<Eye, Sight>>>>,
  views: Record<Eye, View>,
  chart: Chart,
  steadiness: Steadiness | undefined,
): Refusal<'camera-moved'> | undefined {
  const limit_px = MOST_MOVEMENT_IH * pixelsPerHeight(views.left);
  const certain_px = steadiness && steadiness.chance < CERTAIN_CHANCE ? steadiness.movement_px.value : 0;
  const isMoved = certain_px > limit_px;
  if (isMoved && certain_px < SMALL_MOVEMENT_PX) return refuse('camera-moved', { moved_px: certain_px, limit_px });
  if (steadiness && !isMoved) return undefined;
  // No leak where it should be: it may be too faint, or somewhere else.
  const seen_px = EYES.map((lens) => seeMovement(shots[lens], otherEye(lens), views[otherEye(lens)], chart));
  const moved_px = Math.max(certain_px, ...seen_px);
  if (isMoved || moved_px > LEAST_SEEN_MOVEMENT_PX) return refuse('camera-moved', { moved_px, limit_px });
  for (const lens of EYES) {
    const eye = otherEye(lens);
    if (sights[lens][eye].leak.length === 0) continue;
    const found = searchLeak(shots[lens].pixels, chart, eye, views[eye], freeRange(views));
    const found_px = found ? Math.hypot(found.shift.x, found.shift.y) : 0;
    if (found && found_px > 1.5 * found.step_px) return refuse('camera-moved', { moved_px: found_px, limit_px });
  }
  return undefined;
}

/** The leak's displacement is measured to first order: true up to about the blur, too small beyond. */
const SMALL_MOVEMENT_PX = 1;
/** Marks of a leak that were read as marks say where it is, however far it went; each is good to about a pixel. */
const LEAST_SEEN_MARKS = 4;
const LEAST_SEEN_MOVEMENT_PX = 3;

/** Crossings looked at: the strong picture's come first, its ring corners next. */
const MOST_FAINT_SADDLES = 900;

/** Light that a leak's marks may have, as a part of the strong picture's; FAINT of examine-shot and something to spare. */
const MOST_LEAK = 0.15;

/** How far the marks of the faint picture stand from where the other photograph has them, px; 0 where none can be read. */
function seeMovement(shot: ExaminedShot, eye: Eye, view: View, chart: Chart): number {
  if (shot.fit.views[eye]) return 0;
  const strong = median(shot.marks[otherEye(eye)].map(({ contrast, dark }) => dark + MOST_LEAK * contrast));
  const shifts = sightMarks(undefined, limitLight(shot.pixels, strong), chart, MOST_FAINT_SADDLES)
    .marks.filter(({ mark, mirrored, repaired }) => mark.eye === eye && !mirrored && repaired === 0)
    .map(({ mark, centre }) => {
      const expected = project(view, mark);
      return { x: centre.x - expected.x, y: centre.y - expected.y };
    });
  if (shifts.length < LEAST_SEEN_MARKS) return 0;
  return Math.hypot(median(shifts.map(({ x }) => x)), median(shifts.map(({ y }) => y)));
}

/** The strong picture cut down to flat patches no brighter than a leak, so that a leak's marks stand out beside it. */
function limitLight(pixels: Pixels, light: number): Pixels {
  const full = pixels.data instanceof Uint8Array ? 255 : 65535;
  const limit = Math.round(full * srgbFromLinear(Math.min(1, Math.max(0, light))));
  return { ...pixels, data: pixels.data.map((code) => Math.min(code, limit)) };
}

/** How far a faint picture may be looked for before anything of the strong one comes in sight, ih. */
function freeRange(views: Record<Eye, View>): number {
  const [l, r] = [project(views.left, { x: 0, y: 0 }), project(views.right, { x: 0, y: 0 })];
  return CLEARANCE - Math.hypot(l.x - r.x, l.y - r.y) / pixelsPerHeight(views.left);
}
