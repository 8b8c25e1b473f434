import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/kernel/random.ts';
import { type Coding, restoreContrast } from '../../src/light/restore-clipped-noise.ts';

/** Of a file without loss and with fine steps. */
const FINE: Coding = { stepAt: () => 1e-6, quantization: 0, isColour: false };

/** Mean and deviation of noise of deviation 0.003 about a level, cut off at black. */
function clipped(level: number, seed: number): { mean: number; deviation: number } {
  const random = createRandom(seed);
  let sum = 0;
  let squares = 0;
  const count = 200_000;
  for (let i = 0; i < count; i++) {
    const light = Math.max(0, level + 0.003 * random.normal());
    sum += light;
    squares += light * light;
  }
  return { mean: sum / count, deviation: Math.sqrt(squares / count - (sum / count) ** 2) };
}

describe('restoreContrast', () => {
  it('leaves alone what no black has cut, and what is not there', () => {
    expect(restoreContrast(0.004, { mean: 0.01, deviation: 0.002 }, FINE).value).toBe(0.004);
    expect(restoreContrast(0.004, { mean: 0.01, deviation: 0.002 }, FINE).u).toBeLessThan(1e-6);
    expect(restoreContrast(0.004, { mean: 0, deviation: 0 }, FINE).value).toBe(0.004);
    expect(restoreContrast(-0.001, { mean: 0.001, deviation: 0.002 }, FINE).value).toBe(-0.001);
  });

  it.each([0.001, 0.003, 0.009])('gives back most of what the cut took from a contrast of %d', (contrast) => {
    const ground = clipped(0, 1);
    const measured = clipped(contrast, 2).mean - ground.mean;
    expect(measured).toBeLessThan(0.9 * contrast);
    const { value, u } = restoreContrast(measured, ground, FINE);
    // Three quarters of the cut, so a quarter of it is still missing: within what the uncertainty says.
    expect((contrast - value) / (contrast - measured)).toBeCloseTo(0.25, 1);
    expect(Math.abs(value - contrast)).toBeLessThan(2 * u);
  });

  it('gives back less where the dark scatters less against its mean, and nothing for scatter of a rounding', () => {
    const given = (deviation: number, step: number) =>
      restoreContrast(0.002, { mean: 0.0015, deviation }, { ...FINE, stepAt: () => step }).value - 0.002;
    expect(given(0.0009, 1e-5)).toBeLessThan(given(0.0011, 1e-5));
    expect(given(0.0011, 1e-5)).toBeGreaterThan(1e-4);
    expect(given(0.0011, 0.0013)).toBe(0);
  });

  it('adds what JPEG takes, and knows less of a colour one at brighter light, where codes are further apart', () => {
    const stepAt = (light: number) => (light > 0.01 ? 9e-4 : 3e-4);
    const ground = { mean: 0.01, deviation: 0 };
    const grey = restoreContrast(0.004, ground, { stepAt, quantization: 4, isColour: false });
    const colour = restoreContrast(0.004, ground, { stepAt, quantization: 4, isColour: true });
    expect(grey.value - 0.004).toBeCloseTo(0.08 * 3e-4, 12);
    expect(grey.u).toBeCloseTo(3e-4 * Math.hypot(0.02, 0.14), 12);
    expect(colour.value).toBe(grey.value);
    expect(colour.u).toBeCloseTo(Math.hypot(grey.u, 0.1 * 9e-4), 12);
  });
});
