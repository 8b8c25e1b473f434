/**
 * Propagation of distributions by Monte Carlo, where first-order propagation does not hold: sums of few rectangular
 * contributions, the logarithm of what is hardly known, the length of what is nearly nothing.
 *
 * References: JCGM 101, clauses 5 to 7; JCGM 102, 9.4.
 */
import { createRandom, type RandomSource } from './random.ts';
import { mean, standardDeviation } from './statistics.ts';

export interface PropagatedDistribution {
  readonly value: number;
  readonly u: number;
  /** The shortest interval that holds the given probability. */
  readonly interval: readonly [number, number];
}

const DRAWS = 20_000;

/**
 * @param model draws one value of the result from the seeded source it is given.
 * @example
 * propagateDistributions((random) => Math.log(random.between(0.1, 1.1)), { seed: 1 });
 */
export function propagateDistributions(
  model: (random: RandomSource) => number,
  {
    seed,
    draws = DRAWS,
    probability = 0.95,
  }: { readonly seed: number; readonly draws?: number; readonly probability?: number },
): PropagatedDistribution {
  const random = createRandom(seed);
  const sample = Float64Array.from({ length: draws }, () => model(random)).sort();
  const held = Math.round(probability * draws);
  let first = 0;
  for (let k = 1; k + held < draws; k++) {
    if (sample[k + held] - sample[k] < sample[first + held] - sample[first]) first = k;
  }
  return { value: mean(sample), u: standardDeviation(sample), interval: [sample[first], sample[first + held]] };
}

/**
 * The length of a vector that is known with a covariance `[xx, xy, yy]`. Near zero first order says that the length is
 * as well known as the vector, and that it may be zero; in truth it cannot be negative and is likely larger.
 *
 * @example
 * propagateLength(0.001, 0, [1e-4, 0, 1e-4]); // 0.013 with u 0.007, not 0.001 with u 0.010
 */
export function propagateLength(
  x: number,
  y: number,
  [xx, xy, yy]: readonly [number, number, number],
  draws: number = DRAWS,
): PropagatedDistribution {
  const a = Math.sqrt(Math.max(0, xx));
  const b = a === 0 ? 0 : xy / a;
  const c = Math.sqrt(Math.max(0, yy - b * b));
  return propagateDistributions(
    (random) => {
      const [p, q] = [random.normal(), random.normal()];
      return Math.hypot(x + a * p, y + b * p + c * q);
    },
    { seed: 102, draws },
  );
}
