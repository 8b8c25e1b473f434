import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/kernel/random.ts';
import { restoreContrast } from '../../src/light/restore-clipped-noise.ts';

/** Mean of noise of deviation 0.003 about a level, cut off at black. */
function meanOfClipped(level: number, seed: number): number {
  const random = createRandom(seed);
  let sum = 0;
  for (let i = 0; i < 200_000; i++) sum += Math.max(0, level + 0.003 * random.normal());
  return sum / 200_000;
}

describe('restoreContrast', () => {
  it('leaves alone what no black has cut', () => {
    expect(restoreContrast(0.004, { mean: 0.01, blackShare: 0.01 })).toEqual({ value: 0.004, u: 0 });
    expect(restoreContrast(0.004, { mean: 0, blackShare: 1 })).toEqual({ value: 0.004, u: 0 });
    expect(restoreContrast(-0.001, { mean: 0.001, blackShare: 0.5 })).toEqual({ value: -0.001, u: 0 });
  });

  it.each([0.001, 0.003, 0.009])(
    'gives back the larger part of what the cut took from a contrast of %d',
    (contrast) => {
      const mean = meanOfClipped(0, 1);
      const measured = meanOfClipped(contrast, 2) - mean;
      expect(measured).toBeLessThan(0.9 * contrast);
      const { value, u } = restoreContrast(measured, { mean, blackShare: 0.5 });
      // Seven tenths of the cut, so three tenths of it are still missing: within what the uncertainty says.
      expect((contrast - value) / (contrast - measured)).toBeCloseTo(0.3, 1);
      expect(Math.abs(value - contrast)).toBeLessThan(2 * u);
    },
  );

  it('takes back less where less stands at black', () => {
    const little = restoreContrast(0.002, { mean: 0.0015, blackShare: 0.03 });
    const much = restoreContrast(0.002, { mean: 0.0015, blackShare: 0.1 });
    expect(little.value).toBeLessThan(much.value);
    expect(little.u).toBe(much.u);
  });
});
