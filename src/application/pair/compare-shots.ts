/** Two examined photographs together: which eye each lens sees, how much leaks, and whether the camera kept still. */
import { CERTAIN_CHANCE, type Steadiness } from '../../geometry/check-steadiness.ts';
import { type Eye, otherEye } from '../../kernel/eye.ts';
import type { Measured } from '../../kernel/measured.ts';
import type { Point } from '../../kernel/point.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { pixelsPerHeight } from '../../kernel/view.ts';
import {
  assignEyes,
  describeEyes,
  invertRatio,
  type LensRatios,
  type Eyes,
  type PictureStrengths,
} from '../../light/eyes.ts';
import { compareStrength, meanStrength } from '../../light/compare-pictures.ts';
import { classifyEyes, type EyeMatrix, mapLeak, relativeStrengths } from '../../light/eye-matrix.ts';
import type { Chart } from '../../target/chart.ts';
import { judgeMovement, MAX_MOVEMENT_IH, steadinessOf } from './judge-movement.ts';
import {
  type KnownViews,
  MIN_LIT_MARKS,
  type ShotPair,
  type PictureObservation,
  type PictureObservations,
  observePictures,
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
  /** Whether a movement large enough to be refused would have been noticed. */
  readonly isSteadinessKnown: boolean;
}

export type ComparisonRefusal = Refusal<'same-eye-twice' | 'camera-moved' | 'too-few-marks'>;

/** `wander_px`: standard uncertainty of how the pictures lie to each other by the film's weave, where it is known. */
export function compareShots(shots: ShotPair, chart: Chart, wander_px?: Point): ComparedShots | ComparisonRefusal {
  const views = viewsOf(shots);
  if ('shown' in views) return refuse('same-eye-twice', { eye: views.shown });
  const observations = observePictures(shots, views, chart);
  const left = ratioOf(observations.left);
  const right = ratioOf(observations.right);
  if (!left || !right) return refuse('too-few-marks', { needed: MIN_LIT_MARKS });
  const ratios: LensRatios = { left, right };
  const assignment = assignEyes(ratios);
  if (typeof assignment === 'object') return assignment;

  const steadiness = steadinessOf(observations, wander_px);
  const moved = judgeMovement(shots, observations, views, chart, steadiness);
  if (moved) return moved;
  const isCertain = steadiness !== undefined && steadiness.chance < CERTAIN_CHANCE;
  const movement_ih = isCertain ? steadiness.movement_px.value / pixelsPerHeight(views.left) : 0;
  const eyes = describeEyes(assignment, ratios, strengthsOf(observations.left), strengthsOf(observations.right));
  const { value, u } = steadiness?.movement_px ?? { value: 0, u: Number.POSITIVE_INFINITY };
  const isSteadinessKnown = isCertain || value + 2 * u < MAX_MOVEMENT_IH * pixelsPerHeight(views.left);
  const matrix = matrixOf(observations, ratios, chart.aspect);
  return { outcome: 'compared', eyes, matrix, views, observations, steadiness, movement_ih, isSteadinessKnown };
}

/** Right-eye over left-eye picture in one photograph; `undefined` where too few unclipped marks are left. */
function ratioOf(sight: Readonly<Record<Eye, PictureObservation>>): Measured | undefined {
  const stronger = strongerIn(sight);
  const { surface } = sight[stronger];
  const { strengths: weaker, commonU } = sight[otherEye(stronger)];
  if (!surface || weaker.length < MIN_LIT_MARKS) return undefined;
  const ratio = compareStrength(weaker, surface, commonU);
  // A leak lost in the noise may come out at or below zero; a ratio of it the other way round needs a positive number.
  if (stronger === 'left') return ratio;
  return invertRatio({ value: Math.max(ratio.value, ratio.u, 1e-9), u: ratio.u });
}

function strongerIn(sight: Readonly<Record<Eye, PictureObservation>>): Eye {
  const mean = (eye: Eye) => meanStrength(sight[eye].strengths).value;
  return mean('left') >= mean('right') ? 'left' : 'right';
}

function matrixOf(observations: PictureObservations, ratios: LensRatios, aspect: number): EyeMatrix {
  const through = (lens: Eye) => {
    const sight = observations[lens];
    const eye = strongerIn(sight);
    const { strengths, commonU } = sight[otherEye(eye)];
    const map = mapLeak(strengths, sight[eye].surface!, commonU, aspect);
    return { eye, strength: meanStrength(sight[eye].strengths), map };
  };
  const [left, right] = [through('left'), through('right')];
  return {
    strengths: relativeStrengths(ratios, { left, right }),
    class: classifyEyes(ratios),
    maps: { left: left.map, right: right.map },
  };
}

function strengthsOf(sight: Readonly<Record<Eye, PictureObservation>>): PictureStrengths {
  return { left: meanStrength(sight.left.strengths), right: meanStrength(sight.right.strengths) };
}
