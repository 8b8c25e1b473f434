/**
 * How well each fault of lens and mirrors, and each two of them together, explain the pictures' shape.
 *
 *   p(fault | terms) ~ odds(fault) * product over the terms of  normal(term; 0, usual^2 + spread^2 + u^2)
 *
 * The spreads of two faults add in quadrature. Faults whose spreads are alike make the same shapes; between them the
 * odds alone decide, and the answer of a check.
 */
import type { Measured } from '../kernel/measured.ts';
import type { ShapeRow, ShapeTerm } from './cause-row.ts';
import { SHAPE_ROWS } from './decision-table.ts';
import { USUAL_SHAPE_PCT } from './usual-house.ts';
import type { Hypothesis } from './light-posterior.ts';

export interface ShapeSuspect {
  readonly row: ShapeRow;
}

/** Percent. */
export type ShapeObservations = Readonly<Record<ShapeTerm, Measured>>;

export const SHAPE_SUSPECTS: readonly ShapeSuspect[] = SHAPE_ROWS.map((row) => ({ row }));

/** Every hypothesis with its weight; the weights sum to 1. */
export function weighShape(seen: ShapeObservations): Hypothesis<ShapeSuspect>[] {
  const weigh = (suspects: readonly ShapeSuspect[]) => {
    const odds = suspects.reduce((product, { row }) => product * row.prior, 1);
    return { suspects, logWeight: Math.log(odds) + logChance(seen, suspects) };
  };
  const hypotheses = [weigh([]), ...SHAPE_SUSPECTS.map((suspect) => weigh([suspect]))];
  SHAPE_SUSPECTS.forEach((first, i) => {
    for (const second of SHAPE_SUSPECTS.slice(i + 1)) hypotheses.push(weigh([first, second]));
  });
  // The largest is taken out before the exponential, which would otherwise be zero for all of a large fault.
  const largest = Math.max(...hypotheses.map(({ logWeight }) => logWeight));
  const weights = hypotheses.map(({ logWeight }) => Math.exp(logWeight - largest));
  const sum = weights.reduce((a, b) => a + b, 0);
  return hypotheses.map(({ suspects }, i) => ({ suspects, weight: weights[i]! / sum }));
}

function logChance(seen: ShapeObservations, suspects: readonly ShapeSuspect[]): number {
  return (Object.keys(USUAL_SHAPE_PCT) as ShapeTerm[]).reduce((sum, term) => {
    const { value, u } = seen[term];
    const variance = suspects.reduce(
      (v, { row }) => v + (row.spread_pct[term] ?? 0) ** 2,
      USUAL_SHAPE_PCT[term] ** 2 + u ** 2,
    );
    return sum - value ** 2 / (2 * variance) - Math.log(variance) / 2;
  }, 0);
}
