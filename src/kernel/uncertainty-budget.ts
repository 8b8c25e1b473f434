/**
 * An uncertainty budget: what a figure's uncertainty is made of, and what it adds up to.
 *
 *   u^2 = sum u_i^2,   nu_eff = u^4 / sum (u_i^4 / nu_i),   U = t_p(nu_eff) u
 *
 * Each contribution is given in the unit of the result, its sensitivity already applied. Contributions are independent;
 * what correlates them is made one contribution before. Those that stay the same from one set of photographs to the next
 * (print, lens, filter) are left out of `uRepeat`.
 *
 * References: JCGM 100 (GUM), 4.2, 4.3, 5.1 and annex G (Welch and Satterthwaite); JCGM 101, 5.3.
 */
import { studentFactor } from './student.ts';

export interface Contribution {
  /** What it comes from: a code that is put into words where it is shown. */
  readonly component: string;
  /** A: from the scatter of observations; B: from anything else. */
  readonly type: 'A' | 'B';
  readonly u: number;
  /** Infinite where u is taken as known. */
  readonly degreesOfFreedom: number;
  /** Where u comes from: a code, such as `house`, `default`, `residuals`. */
  readonly source: string;
  /** Whether another set of photographs of the same print and machine throws it anew. */
  readonly repeats: boolean;
}

export interface BudgetLine extends Contribution {
  /** Part of the combined variance, 0 to 1. */
  readonly share: number;
}

export interface UncertaintyBudget {
  /** Largest share first. */
  readonly lines: readonly BudgetLine[];
  readonly u: number;
  readonly uRepeat: number;
  /** Infinite where every contribution that counts is taken as known. */
  readonly effectiveDegrees: number;
  readonly coverageFactor: number;
  /** Half the interval that holds the value with the probability asked for. */
  readonly expanded: number;
}

/**
 * Throws a RangeError for an uncertainty that is negative or not finite.
 *
 * @example
 * const length = combineBudget([
 *   { component: 'standard', type: 'B', u: 25, degreesOfFreedom: 18, source: 'certificate', repeats: false },
 *   { component: 'difference', type: 'A', u: 9.7, degreesOfFreedom: 25.6, source: 'repeats', repeats: true },
 * ]);
 * length.expanded; // at 95 %
 */
export function combineBudget(contributions: readonly Contribution[], probability = 0.95): UncertaintyBudget {
  for (const { component, u, degreesOfFreedom } of contributions) {
    if (!(u >= 0 && Number.isFinite(u))) throw new RangeError(`an uncertainty of ${u} for ${component}`);
    if (!(degreesOfFreedom > 0)) throw new RangeError(`${degreesOfFreedom} degrees of freedom for ${component}`);
  }
  const variance = contributions.reduce((sum, { u }) => sum + u * u, 0);
  const repeated = contributions.reduce((sum, { u, repeats }) => sum + (repeats ? u * u : 0), 0);
  const welch = contributions.reduce((sum, { u, degreesOfFreedom }) => sum + u ** 4 / degreesOfFreedom, 0);
  const effectiveDegrees = welch > 0 ? variance ** 2 / welch : Number.POSITIVE_INFINITY;
  const u = Math.sqrt(variance);
  // The GUM truncates to the next lower whole number (G.4.1); below one there is none.
  const whole = effectiveDegrees < 1 ? effectiveDegrees : Math.floor(effectiveDegrees * (1 + 1e-12));
  const coverageFactor = studentFactor(probability, whole);
  return {
    lines: contributions
      .map((line) => ({ ...line, share: variance > 0 ? line.u ** 2 / variance : 0 }))
      .sort((a, b) => b.share - a.share),
    u,
    uRepeat: Math.sqrt(repeated),
    effectiveDegrees,
    coverageFactor,
    expanded: coverageFactor * u,
  };
}
