/**
 * The working limits expressed in the eight terms of the misalignment, for whoever decides what is worth a turn.
 *
 * With v the vertical disparity (ih) allowed at the worst place seen from the nearer seat, a term's limit is the amount
 * of it that alone makes v somewhere in the picture: roll and shear at the sides (aspect/2), stretch at the top (1/2),
 * keystone in a corner (aspect/4) or at the top (1/4). Size and horizontal offset have limits of their own.
 */
import { TERMS, type Term, type TermVector } from '../geometry/misalignment.ts';
import { type Tolerance, tolerancesInForce } from './tolerances.ts';
import { describeViewing, type HouseFacts, lengthAtSeat } from './viewing.ts';

export interface TermLimits {
  /** ih, radians and fractions. The limit of the horizontal offset is that of uncrossed shifts. */
  readonly terms: TermVector;
  /** Crossed horizontal shifts (negative), as a positive number in ih. */
  readonly crossedHorizontal: number;
  readonly worstVertical: number;
}

export function limitTerms(house: HouseFacts | undefined, aspect: number): TermLimits {
  const { distance_ih } = describeViewing(house, aspect);
  const distance = Math.min(distance_ih['nearest-row'], distance_ih['reference-seat']);
  const rows = tolerancesInForce(house?.tolerances);
  const working = (code: Tolerance['code']): Tolerance => rows.find((r) => r.code === code && r.level === 'working')!;
  const length = (code: Tolerance['code']) => lengthAtSeat(working(code).limit, distance);

  const worstVertical = length('worst-vertical');
  const horizontal = working('horizontal-offset');
  return {
    terms: {
      verticalOffset: Math.min(length('vertical-offset'), worstVertical),
      horizontalOffset: lengthAtSeat(horizontal.limit, distance),
      rotation: Math.min(length('rotation'), worstVertical) / (aspect / 2),
      size: working('size').limit / 100,
      stretch: worstVertical / 0.5,
      shear: worstVertical / (aspect / 2),
      keystoneH: worstVertical / (aspect / 4),
      keystoneV: worstVertical / 0.25,
    },
    crossedHorizontal: lengthAtSeat(horizontal.below?.limit ?? horizontal.limit, distance),
    worstVertical,
  };
}

/** Whether an amount of a term lies inside `part` of its limit. */
export function isInside(limits: TermLimits, term: Term, amount: number, part = 1): boolean {
  const limit = term === 'horizontalOffset' && amount < 0 ? limits.crossedHorizontal : limits.terms[term];
  return Math.abs(amount) <= part * limit;
}

/** The terms that make vertical disparity; the horizontal offset is the one that makes none. */
export const VERTICAL_TERMS: readonly Term[] = TERMS.filter((term) => term !== 'horizontalOffset');
