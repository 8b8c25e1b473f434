/** Two examined photographs together: which eye each lens sees, how much leaks, and whether the camera kept still. */
import { CERTAIN_CHANCE, type Similarity, type Steadiness } from '../../geometry/check-steadiness.ts';
import { type Eye, otherEye } from '../../kernel/eye.ts';
import type { Measured } from '../../kernel/measured.ts';
import type { Point } from '../../kernel/point.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { pixelsPerHeight } from '../../kernel/view.ts';
import { compareStrength, meanStrength } from '../../light/compare-pictures.ts';
import { classifyEyes, type EyeMatrix, mapLeak, relativeStrengths } from '../../light/eye-matrix.ts';
import type { Eyes, PictureStrengths } from '../../light/eyes.ts';
import { assignEyes, describeEyes, invertRatio, type LensRatios } from '../../light/eyes.ts';
import type { Chart } from '../../target/chart.ts';
import {
  expectPictures,
  type FoundMovement,
  type KnownRelation,
  moveExpected,
  searchMovement,
} from './expect-pictures.ts';
import { MAX_MOVEMENT_IH, MAX_ZOOM, steadinessOf } from './judge-movement.ts';
import {
  type KnownViews,
  MIN_LIT_MARKS,
  observePictures,
  type PictureObservation,
  type PictureObservations,
  type ShotPair,
  viewsOf,
} from './observe-pictures.ts';

export interface ComparedShots {
  readonly outcome: 'compared';
  readonly eyes: Eyes;
  readonly matrix: EyeMatrix;
  /** Where the pictures lie, and what was seen of them. */
  readonly views: KnownViews;
  readonly observations: PictureObservations;
  /** Undefined where no leak is strong enough to tell. */
  readonly steadiness: Steadiness | undefined;
  /** How far camera or film certainly moved, ih; 0 where nothing is certain. */
  readonly movement_ih: number;
  /** Whether a ghost was strong enough to tell what moved. */
  readonly isSteadinessKnown: boolean;
}

export type ComparisonRefusal = Refusal<'same-eye-twice' | 'camera-moved' | 'too-few-marks'>;

export interface ComparisonOptions {
  /** Standard uncertainty of how the pictures lie to each other by the film's weave, where it is known. */
  readonly wander_px?: Point | undefined;
  /** How the pictures lie to each other in one exposure: faint ones are then known to stand where it says. */
  readonly relation?: KnownRelation | undefined;
}

export function compareShots(
  shots: ShotPair,
  chart: Chart,
  { wander_px, relation }: ComparisonOptions = {},
): ComparedShots | ComparisonRefusal {
  const views = viewsOf(shots);
  if ('shown' in views) return refuse('same-eye-twice', { eye: views.shown });
  const { observations, steadiness, found } = followMovement(shots, views, chart, { wander_px, relation });
  const limit_px = MAX_MOVEMENT_IH * pixelsPerHeight(views.left);
  if (found && ((!wander_px && found.apart_px > limit_px) || (found.steadiness && isZoomed(found.steadiness)))) {
    return refuse('camera-moved', { moved_px: found.apart_px, limit_px });
  }
  const left = ratioOf(observations.left);
  const right = ratioOf(observations.right);
  if (!left || !right) return refuse('too-few-marks', { needed: MIN_LIT_MARKS });
  const ratios: LensRatios = { left, right };
  const assignment = assignEyes(ratios);
  if (typeof assignment === 'object') return assignment;

  const perIh_px = pixelsPerHeight(views.left);
  const isCertain = steadiness !== undefined && steadiness.chance < CERTAIN_CHANCE;
  const movement_ih = isCertain ? steadiness.movement_px.value / perIh_px : 0;
  // A photograph without glasses says how the pictures lie, however far the glasses moved the view.
  if (!relation && movement_ih > MAX_MOVEMENT_IH && steadiness!.chanceOfWeave < CERTAIN_CHANCE) {
    return refuse('camera-moved', { moved_px: movement_ih * perIh_px, limit_px });
  }
  if (steadiness && isZoomed(steadiness)) {
    return refuse('camera-moved', { moved_px: steadiness.movement_px.value, limit_px });
  }
  const eyes = describeEyes(assignment, ratios, strengthsOf(observations.left), strengthsOf(observations.right));
  const matrix = matrixOf(observations, ratios, chart.aspect);
  return {
    outcome: 'compared',
    eyes,
    matrix,
    views,
    observations,
    steadiness,
    movement_ih,
    isSteadinessKnown: isCertain,
  };
}

function isZoomed({ size: { value, u } }: Steadiness): boolean {
  return Math.abs(value) > Math.max(MAX_ZOOM.size, MAX_ZOOM.uncertainties * u);
}

/**
 * A displacement is measured to first order from where a picture was expected, and smaller than it is where a camera's
 * processing weakens what is faint: from here on the picture is looked for where it was found, and so on, px.
 */
const FOLLOWED_PX = 0.03;
const MAX_ROUNDS = 6;

interface FollowedPictures {
  readonly observations: PictureObservations;
  readonly steadiness: Steadiness | undefined;
  /** Where the faint pictures were searched for, and found elsewhere. */
  readonly found?: FoundMovement | undefined;
}

/** The pictures where they stand in each photograph, whatever moved between the two. */
function followMovement(
  shots: ShotPair,
  views: KnownViews,
  chart: Chart,
  { wander_px, relation }: ComparisonOptions,
): FollowedPictures {
  const expected = expectPictures(shots, views, relation);
  const observations = observePictures(shots, expected, chart);
  const steadiness = steadinessOf(observations, wander_px);
  if (relation) return { observations, steadiness };
  const isNear = steadiness !== undefined && steadiness.movement_px.value < 1;
  if (isNear && steadiness.movement_px.value < FOLLOWED_PX) return { observations, steadiness };
  const found = isNear ? undefined : searchMovement(shots, views, expected, chart);
  const isClear = steadiness !== undefined && steadiness.chance < CERTAIN_CHANCE;
  let moved = found ? shiftOnly(found.shift) : isClear ? steadiness.moved : undefined;
  if (!moved) return { observations, steadiness };
  for (let round = 1; ; round++) {
    const followed = observePictures(shots, moveExpected(expected, shots, moved), chart);
    const again = steadinessOf(followed, wander_px);
    if (!again || round === MAX_ROUNDS || isAlike(again.moved, moved)) {
      return { observations: followed, steadiness: again, found };
    }
    moved = again.moved;
  }
}

const shiftOnly = (shift_px: Point): Similarity => ({
  shift_px,
  centre: { x: 0, y: 0 },
  growth: 0,
  turn: 0,
  reach_px: 0,
});

/** Both move all places within reach alike, to FOLLOWED_PX. */
function isAlike({ shift_px, centre, growth, turn, reach_px }: Similarity, other: Similarity): boolean {
  const [dx, dy] = [centre.x - other.centre.x, centre.y - other.centre.y];
  const x = other.shift_px.x + other.growth * dx - other.turn * dy;
  const y = other.shift_px.y + other.growth * dy + other.turn * dx;
  const apart = Math.hypot(shift_px.x - x, shift_px.y - y);
  return apart + reach_px * Math.hypot(growth - other.growth, turn - other.turn) < FOLLOWED_PX;
}

/** Right-eye over left-eye picture in one photograph; `undefined` where too few unclipped marks are left. */
function ratioOf(observed: Readonly<Record<Eye, PictureObservation>>): Measured | undefined {
  const stronger = strongerIn(observed);
  const { surface } = observed[stronger];
  const { strengths: weaker, commonU } = observed[otherEye(stronger)];
  if (!surface || weaker.length < MIN_LIT_MARKS) return undefined;
  const ratio = compareStrength(weaker, surface, commonU);
  // A leak lost in the noise may come out at or below zero; a ratio of it the other way round needs a positive number.
  if (stronger === 'left') return ratio;
  return invertRatio({ value: Math.max(ratio.value, ratio.u, 1e-9), u: ratio.u });
}

function strongerIn(observed: Readonly<Record<Eye, PictureObservation>>): Eye {
  const mean = (eye: Eye) => meanStrength(observed[eye].strengths).value;
  return mean('left') >= mean('right') ? 'left' : 'right';
}

function matrixOf(observations: PictureObservations, ratios: LensRatios, aspect: number): EyeMatrix {
  const through = (lens: Eye) => {
    const observed = observations[lens];
    const eye = strongerIn(observed);
    const { strengths, commonU } = observed[otherEye(eye)];
    const map = mapLeak(strengths, observed[eye].surface!, commonU, aspect);
    return { eye, strength: meanStrength(observed[eye].strengths), map };
  };
  const [left, right] = [through('left'), through('right')];
  return {
    strengths: relativeStrengths(ratios, { left, right }),
    class: classifyEyes(ratios),
    maps: { left: left.map, right: right.map },
  };
}

function strengthsOf(observed: Readonly<Record<Eye, PictureObservation>>): PictureStrengths {
  return { left: meanStrength(observed.left.strengths), right: meanStrength(observed.right.strengths) };
}
