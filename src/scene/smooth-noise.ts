/**
 * A smooth random vector field by seed: neighbouring places are alike, far ones are not.
 *
 *   f(p) = sigma sqrt(2 / n) sum cos(k_i . p + phi_i),    k_i normal with standard deviation 1 / length
 *
 * Its mean over seeds is 0, each component has the standard deviation sigma, and places a distance r apart are correlated
 * by exp(-r^2 / (2 length^2)).
 *
 * Reference: Rahimi and Recht, Random features for large-scale kernel machines (2007): the spectral representation of a
 * Gaussian process.
 */
import type { Point } from '../kernel/point.ts';
import type { RandomSource } from '../kernel/random.ts';

const WAVES = 48;

/** `sigma` in the unit of the result, `length` in that of the places. */
export function drawSmoothField(random: RandomSource, sigma: number, length: number): (p: Point) => Point {
  const draw = () => {
    const waves = Array.from({ length: WAVES }, () => ({
      kx: random.normal() / length,
      ky: random.normal() / length,
      phase: random.between(0, 2 * Math.PI),
    }));
    const amplitude = sigma * Math.sqrt(2 / WAVES);
    return (p: Point) => {
      let sum = 0;
      for (const { kx, ky, phase } of waves) sum += Math.cos(kx * p.x + ky * p.y + phase);
      return amplitude * sum;
    };
  };
  const [x, y] = [draw(), draw()];
  return (p) => ({ x: x(p), y: y(p) });
}
