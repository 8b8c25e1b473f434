/** The photographs through the glasses: which eye each lens sees, how much leaks, what moved, which copies there are. */
import { type Eye, EYES } from '../../kernel/eye.ts';
import type { Point } from '../../kernel/point.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import type { PhotographRole } from '../../record/roles.ts';
import type { Chart } from '../../target/chart.ts';
import type { ExaminedPhotograph, ExaminedShot } from '../shot/examine-shot.ts';
import { type ComparedShots, compareShots, type ComparisonOptions } from './compare-shots.ts';
import { findStrays, type Stray } from './find-strays.ts';
import { CERTAIN_CHANCE, checkSteadiness, type Displacement } from '../../geometry/check-steadiness.ts';
import type { Measured } from '../../kernel/measured.ts';
import { pixelsPerHeight } from '../../kernel/view.ts';
import { MAX_FILM_MOVEMENT_IH } from './judge-movement.ts';
import { strongerEye } from '../shot/judge-shot.ts';

export interface ComparedLenses extends ComparedShots {
  /** The photographs that were compared. */
  readonly photographs: Readonly<Record<Eye, ExaminedPhotograph>>;
  readonly strays: readonly Stray[];
}

export type LensesRefused = {
  readonly outcome: 'refused';
  readonly refusal: Refusal<string>;
  readonly role: PhotographRole | null;
};

export interface LensOptions extends ComparisonOptions {
  readonly closingWander_px?: Point | undefined;
}

/** The first photograph through each lens; undefined where none was taken through the glasses. */
export function compareLenses(
  photographs: readonly ExaminedPhotograph[],
  chart: Chart,
  { closingWander_px, ...options }: LensOptions = {},
): ComparedLenses | LensesRefused | undefined {
  const first = (role: PhotographRole) => photographs.find((photograph) => photograph.role === role);
  const [left, right, closing] = [first('left-lens'), first('right-lens'), first('closing')];
  if (!left || !right) return undefined;
  const shots = { left: left.shot, right: right.shot };
  const pair = compareShots(shots, chart, options);
  if (pair.outcome === 'refused') return { outcome: 'refused', refusal: pair, role: null };
  const closed = closing && joinClosing(pair, compareClosing(left.shot, closing.shot, closingWander_px));
  if (closed?.outcome === 'refused') return { outcome: 'refused', refusal: closed, role: 'closing' };
  const compared = closed ?? pair;
  const strays = findStrays(shots, compared.observations, compared.views, chart);
  return { ...compared, photographs: { left, right }, strays };
}

/**
 * Whether camera and film kept still, from a closing photograph through the lens of the first one: both show the same
 * eye's picture strongly, so its marks tell far more than a leak does, and tell it for the photograph between them too.
 */
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
    limit_px: MAX_FILM_MOVEMENT_IH * perIh_px,
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
