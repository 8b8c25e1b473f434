/**
 * Whether camera and film kept still between two photographs, judged from each eye's picture, once strong and once a
 * leak: a leak that stands elsewhere, or that is not where it should be, has moved.
 */
import {
  CERTAIN_CHANCE,
  checkSteadiness,
  type Displacement,
  type Steadiness,
} from '../../geometry/check-steadiness.ts';
import type { Pixels } from '../../imaging/pixels.ts';
import { srgbFromLinear } from '../../imaging/srgb.ts';
import { EYES, type Eye, otherEye } from '../../kernel/eye.ts';
import type { Point } from '../../kernel/point.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { median } from '../../kernel/statistics.ts';
import { pixelsPerHeight, project, type View } from '../../kernel/view.ts';
import { compareStrength } from '../../light/compare-pictures.ts';
import { type Chart, CLEARANCE } from '../../target/chart.ts';
import { searchFaintPicture } from '../../vision/faint-picture.ts';
import { detectMarks } from '../../vision/detect-marks.ts';
import type { ExaminedShot } from '../shot/examine-shot.ts';
import type { KnownViews, ShotPair, PictureObservation, PictureObservations } from './observe-pictures.ts';

/** A leak must stand out so many times its uncertainty before its place means anything. */
const MIN_LEAK_SIGNIFICANCE = 8;
/** A certain movement is refused from this part of the picture height on; a smaller one widens the uncertainty. */
export const MAX_MOVEMENT_IH = 2e-4;

/** From the displacements of both pictures' marks; undefined where no leak is strong enough to tell. */
export function steadinessOf(observations: PictureObservations, wander_px?: Point): Steadiness | undefined {
  return checkSteadiness(
    EYES.flatMap((eye) => displacementsOf(observations, eye)),
    wander_px,
  );
}

/** Displacements of one eye's marks from the photograph through the left lens to that through the right lens. */
function displacementsOf(observations: PictureObservations, eye: Eye): Displacement[] {
  const first = placesOf(observations.left, eye);
  const second = placesOf(observations.right, eye);
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

type Placed = Pick<Displacement, 'u'> & { readonly centre: Point };

/** Where each mark of a picture is seen, px; empty where it is too faint to have a place. */
function placesOf(sight: Readonly<Record<Eye, PictureObservation>>, eye: Eye): Map<string, Placed> {
  const { marks, leak, strengths } = sight[eye];
  const places = new Map<string, Placed>();
  for (const { mark, centre, covariance } of marks) {
    places.set(mark.id, { centre, u: { x: Math.sqrt(covariance[0]), y: Math.sqrt(covariance[2]) } });
  }
  const { surface } = sight[otherEye(eye)];
  if (leak.length === 0 || !surface) return places;
  const ratio = compareStrength(strengths, surface, sight[eye].commonU);
  if (!(ratio.value > MIN_LEAK_SIGNIFICANCE * ratio.u)) return places;
  for (const [i, { mark, frame, moment, momentU }] of leak.entries()) {
    // One mark's own contrast is noise; what the leak as a whole says of it is not.
    const contrast = ratio.value * surface.strengthAt(strengths[i]!.at);
    places.set(mark.id, {
      centre: { x: frame.centre.x + moment.x / contrast, y: frame.centre.y + moment.y / contrast },
      u: { x: momentU.x / contrast, y: momentU.y / contrast },
    });
  }
  return places;
}

export function judgeMovement(
  shots: ShotPair,
  observations: PictureObservations,
  views: KnownViews,
  chart: Chart,
  steadiness: Steadiness | undefined,
): Refusal<'camera-moved'> | undefined {
  const limit_px = MAX_MOVEMENT_IH * pixelsPerHeight(views.left);
  // Between means of frames the film's weave is to be expected, and in the uncertainty: it is no reason to refuse.
  const certain_px = steadiness && steadiness.chanceOfWeave < CERTAIN_CHANCE ? steadiness.movement_px.value : 0;
  const isMoved = certain_px > limit_px;
  if (isMoved && certain_px < SMALL_MOVEMENT_PX) return refuse('camera-moved', { moved_px: certain_px, limit_px });
  if (steadiness && !isMoved) return undefined;
  // No leak where it should be: it may be too faint, or somewhere else.
  const seen_px = EYES.map((lens) => seeMovement(shots[lens], otherEye(lens), views[otherEye(lens)], chart));
  const moved_px = Math.max(certain_px, ...seen_px);
  if (isMoved || moved_px > MIN_SEEN_MOVEMENT_PX) return refuse('camera-moved', { moved_px, limit_px });
  for (const lens of EYES) {
    const eye = otherEye(lens);
    if (observations[lens][eye].leak.length === 0) continue;
    const found = searchFaintPicture(shots[lens].pixels, chart, eye, views[eye], freeRange(views));
    const found_px = found ? Math.hypot(found.shift.x, found.shift.y) : 0;
    if (found && found_px > 1.5 * found.step_px) return refuse('camera-moved', { moved_px: found_px, limit_px });
  }
  return undefined;
}

/** The leak's displacement is measured to first order: true up to about the blur, too small beyond. */
const SMALL_MOVEMENT_PX = 1;
/** Marks of a leak that were read as marks say where it is, however far it went; each is good to about a pixel. */
const MIN_SEEN_MARKS = 4;
const MIN_SEEN_MOVEMENT_PX = 3;

/** Crossings looked at: the strong picture's come first, its ring corners next. */
const MAX_FAINT_SADDLES = 900;

/** Light that a leak's marks may have, as a part of the strong picture's; FAINT of examine-shot and something to spare. */
const MAX_LEAK = 0.15;

/** How far the marks of the faint picture stand from where the other photograph has them, px; 0 where none can be read. */
function seeMovement(shot: ExaminedShot, eye: Eye, view: View, chart: Chart): number {
  if (shot.fit.views[eye]) return 0;
  const strong = median(shot.marks[otherEye(eye)].map(({ contrast, dark }) => dark + MAX_LEAK * contrast));
  const shifts = detectMarks(undefined, limitLight(shot.pixels, strong), chart, MAX_FAINT_SADDLES)
    .marks.filter(({ mark, mirrored, repaired }) => mark.eye === eye && !mirrored && repaired === 0)
    .map(({ mark, centre }) => {
      const expected = project(view, mark);
      return { x: centre.x - expected.x, y: centre.y - expected.y };
    });
  if (shifts.length < MIN_SEEN_MARKS) return 0;
  return Math.hypot(median(shifts.map(({ x }) => x)), median(shifts.map(({ y }) => y)));
}

/** The strong picture cut down to flat patches no brighter than a leak, so that a leak's marks stand out beside it. */
function limitLight(pixels: Pixels, light: number): Pixels {
  const full = pixels.data instanceof Uint8Array ? 255 : 65535;
  const limit = Math.round(full * srgbFromLinear(Math.min(1, Math.max(0, light))));
  return { ...pixels, data: pixels.data.map((code) => Math.min(code, limit)) };
}

/** How far a faint picture may be looked for before anything of the strong one comes in sight, ih. */
function freeRange(views: KnownViews): number {
  const [l, r] = [project(views.left, { x: 0, y: 0 }), project(views.right, { x: 0, y: 0 })];
  return CLEARANCE - Math.hypot(l.x - r.x, l.y - r.y) / pixelsPerHeight(views.left);
}
