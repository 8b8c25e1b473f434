/** How often an interval or a standard uncertainty holds the truth, for the tests of stated uncertainties. */
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';

/**
 * Share of `trials` random measurements that hold the truth. Of 1000 trials at 95 % a share strays by 0.7 %, so a true
 * coverage of 90 to 99 % is told from one outside by some percent.
 */
export function coverageOf(trials: number, seed: number, holds: (random: RandomSource) => boolean): number {
  const random = createRandom(seed);
  let held = 0;
  for (let i = 0; i < trials; i++) if (holds(random)) held++;
  return held / trials;
}
