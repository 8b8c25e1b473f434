/**
 * Two examined photographs together: which eye each lens sees, how much leaks, and whether the camera kept still.
 *
 * A picture too faint to be found by itself is measured where the other photograph shows it strongly.
 */
import { CERTAIN_CHANCE, checkSteadiness, type Displacement, type Steadiness } from '../geometry/check-steadiness.ts';
import type { Pixels } from '../imaging/pixels.ts';
import { linearFromSrgb } from '../imaging/srgb.ts';
import { type Eye, EYES, otherEye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { pixelsPerHeight, type View } from '../kernel/view.ts';
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
import type { Chart } from '../target/chart.ts';
import { type LeakMark, measureLeak } from '../vision/measure-leak.ts';
import type { MeasuredMark } from '../vision/measure-marks.ts';
import { searchLeak } from '../vision/search-leak.ts';
import type { ExaminedShot } from './examine-shot.ts';

export interface ComparedShots {
  readonly outcome: 'compared';
  readonly eyes: Eyes;
  /** Undefined where no leak is strong enough to tell. */
  readonly steadiness: Steadiness | undefined;
  /** How far camera or film certainly moved, ih; 0 where nothing is certain. */
  readonly movement_ih: number;
}

export type ComparisonRefusal = Refusal<'same-eye-twice' | 'camera-moved' | 'too-few-marks'>;

/** The photographs by the lens they were taken through. */
export type ShotPair = Readonly<Record<Eye, ExaminedShot>>;

/** Fewest unclipped marks that stand for a picture's strength. */
const LEAST_LIT_MARKS = 6;
/** A leak must stand out so many times its uncertainty before its place means anything. */
const LEAST_LEAK_SIGNIFICANCE = 8;
/** A certain movement is refused from this part of the picture height on; a smaller one widens the uncertainty. */
const MOST_MOVEMENT_IH = 2e-4;

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
  return { outcome: 'compared', eyes, steadiness, movement_ih };
}

function darkestStep({ data }: Pixels): number {
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
  const codingStep = darkestStep(shot.pixels);
  if (shot.fit.views[eye]) {
    const marks = shot.marks[eye];
    const strengths = marks
      .filter((mark) => !mark.clipped)
      .map(({ mark, contrast, contrastU }) => ({ at: mark, contrast, contrastU }));
    return { codingStep, strengths, surface: fitStrength(strengths), marks, leak: [] };
  }
  const leak = measureLeak(shot.pixels, chart, eye, views[eye], shot.blur_px);
  const strengths = restoreLeak(leak);
  return { codingStep, strengths, surface: undefined, marks: [], leak };
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
  if (steadiness && steadiness.chance < CERTAIN_CHANCE && steadiness.movement_px.value > limit_px) {
    return refuse('camera-moved', { moved_px: steadiness.movement_px.value, limit_px });
  }
  if (steadiness) return undefined;
  // No leak where it should be: it may be too faint, or somewhere else.
  for (const lens of EYES) {
    const eye = otherEye(lens);
    if (sights[lens][eye].leak.length === 0) continue;
    const found = searchLeak(shots[lens].pixels, chart, eye, views[eye]);
    const moved_px = found ? Math.hypot(found.shift.x, found.shift.y) : 0;
    if (found && moved_px > 1.5 * found.step_px) return refuse('camera-moved', { moved_px, limit_px });
  }
  return undefined;
}
