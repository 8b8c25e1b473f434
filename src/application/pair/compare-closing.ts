/**
 * Whether camera and film kept still, from a closing photograph through the lens of the first one: both show the same
 * eye's picture strongly, so its marks tell far more than a leak does, and tell it for the photograph between them too.
 */
import { CERTAIN_CHANCE, checkSteadiness, type Displacement } from '../../geometry/check-steadiness.ts';
import { EYES } from '../../kernel/eye.ts';
import type { Measured } from '../../kernel/measured.ts';
import type { Point } from '../../kernel/point.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { pixelsPerHeight } from '../../kernel/view.ts';
import type { ComparedShots } from './compare-shots.ts';
import type { ExaminedShot } from '../shot/examine-shot.ts';
import { MAX_MOVEMENT_IH } from './judge-movement.ts';
import { strongerEye } from '../shot/judge-shot.ts';

export interface ClosingMovement {
  readonly outcome: 'compared';
  /** Displacement of the marks' centre. */
  readonly shift_px: Point;
  readonly size: Measured;
  /** Largest displacement over the picture from the first to the closing photograph. */
  readonly movement_px: Measured;
  readonly movement_ih: number;
  /** A certain movement beyond this is refused. */
  readonly limit_px: number;
  /** Probability of a displacement this significant if nothing moved. */
  readonly chance: number;
  /** The same if nothing but the film's weave moved. */
  readonly chanceOfWeave: number;
  readonly isCertain: boolean;
}

export function compareClosing(
  first: ExaminedShot,
  closing: ExaminedShot,
  wander_px?: Point,
): ClosingMovement | Refusal<'closing-other-eye' | 'too-few-marks'> {
  const eye = strongerEye(first);
  if (strongerEye(closing) !== eye) return refuse('closing-other-eye', { eye });
  const displacements = displacementsBetween(first, closing);
  const steadiness = checkSteadiness(displacements, wander_px);
  if (!steadiness) return refuse('too-few-marks', { found: displacements.length });
  const { shift_px, size, movement_px, chance, chanceOfWeave } = steadiness;
  const perIh_px = pixelsPerHeight(first.fit.views[eye]!);
  return {
    outcome: 'compared',
    shift_px,
    size,
    movement_px,
    movement_ih: movement_px.value / perIh_px,
    limit_px: MAX_MOVEMENT_IH * perIh_px,
    chance,
    chanceOfWeave,
    isCertain: chance < CERTAIN_CHANCE,
  };
}

/** The larger certain movement counts; where there is none, the closing photograph's word. */
export function joinClosing<Code extends string>(
  compared: ComparedShots,
  movement: ClosingMovement | Refusal<Code>,
): ComparedShots | Refusal<Code | 'camera-moved'> {
  if (movement.outcome === 'refused') return movement;
  const { shift_px, size, movement_px, movement_ih, limit_px, chance, chanceOfWeave, isCertain } = movement;
  if (chanceOfWeave < CERTAIN_CHANCE && movement_px.value > limit_px) {
    return refuse('camera-moved', { moved_px: movement_px.value, limit_px });
  }
  if (compared.movement_ih > 0 && !(isCertain && movement_ih > compared.movement_ih)) return compared;
  return {
    ...compared,
    steadiness: { shift_px, size, movement_px, chance, chanceOfWeave },
    movement_ih: isCertain ? movement_ih : 0,
    isSteadinessKnown: true,
  };
}

function displacementsBetween(first: ExaminedShot, closing: ExaminedShot): Displacement[] {
  return EYES.flatMap((eye) => {
    const before = new Map(first.marks[eye].map((measured) => [measured.mark.id, measured]));
    return closing.marks[eye].flatMap(({ mark, centre, covariance }) => {
      const earlier = before.get(mark.id);
      if (!earlier) return [];
      const u = (i: 0 | 2) => Math.sqrt(covariance[i] + earlier.covariance[i]);
      const shift = { x: centre.x - earlier.centre.x, y: centre.y - earlier.centre.y };
      return [{ at: earlier.centre, shift, u: { x: u(0), y: u(2) } }];
    });
  });
}
