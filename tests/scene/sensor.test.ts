import { describe, expect, it } from 'vitest';
import { srgbFromLinear } from '../../src/imaging/srgb.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { exposeSensor, type Sensor } from '../../src/scene/sensor.ts';

const sensor: Sensor = { fullWell_e: 20000, readNoise_e: 5, channelSensitivity: [0.5, 1, 0.8], tint: [1, 1, 1] };
const quiet: Sensor = { ...sensor, fullWell_e: 1e12, readNoise_e: 0 };
const even = (light: number, n = 40000) => ({ width: n / 100, height: 100, data: new Float32Array(n).fill(light) });

describe('exposeSensor', () => {
  it('without noise is the sRGB code of the light, rounded, for every code', () => {
    const lights = Float32Array.from({ length: 3000 }, (_, i) => i / 2999);
    const { data } = exposeSensor({ width: 3000, height: 1, data: lights }, quiet, createRandom(1));
    lights.forEach((light, i) => {
      const exact = 255 * srgbFromLinear(light);
      if (Math.abs((exact % 1) - 0.5) < 1e-3) return;
      expect(data[3 * i + 1]).toBe(Math.round(exact));
    });
  });

  it('has the mean and the spread of photon and read noise in each channel', () => {
    const light = 0.2;
    // Twice the sRGB slope would do; many levels per sigma keep rounding out: 0.2 is code 124, one code 0.0073.
    const dim: Sensor = { ...sensor, fullWell_e: 400, readNoise_e: 3 };
    const { data } = exposeSensor(even(light), dim, createRandom(7));
    for (const c of [0, 1, 2]) {
      const values = Array.from({ length: 40000 }, (_, i) => decode(data[3 * i + c]));
      const mean = values.reduce((a, b) => a + b, 0) / values.length;
      const spread = Math.sqrt(values.reduce((a, b) => a + (b - mean) ** 2, 0) / values.length);
      const s = dim.channelSensitivity[c];
      const expected = Math.sqrt(light * 400 * s + 9) / (400 * s);
      expect(Math.abs(mean - light)).toBeLessThan((4 * expected) / 200 + 2e-4);
      // The spread of 40000 values is known to 1 / sqrt(80000) = 0.35 %; rounding adds 0.0021 in quadrature.
      expect(spread / Math.hypot(expected, 0.0021)).toBeCloseTo(1, 1.5);
    }
  });

  it('gives neighbours and channels independent noise', () => {
    const { data } = exposeSensor(even(0.2), { ...sensor, fullWell_e: 1000 }, createRandom(3));
    const at = (i: number, c: number) => decode(data[3 * i + c]) - 0.2;
    const correlation = (f: (i: number) => number, g: (i: number) => number) => {
      let [fg, ff, gg] = [0, 0, 0];
      for (let i = 0; i < 39000; i++) {
        fg += f(i) * g(i);
        ff += f(i) ** 2;
        gg += g(i) ** 2;
      }
      return fg / Math.sqrt(ff * gg);
    };
    expect(
      Math.abs(
        correlation(
          (i) => at(i, 1),
          (i) => at(i + 1, 1),
        ),
      ),
    ).toBeLessThan(0.025);
    expect(
      Math.abs(
        correlation(
          (i) => at(i, 1),
          (i) => at(i + 400, 1),
        ),
      ),
    ).toBeLessThan(0.025);
    expect(
      Math.abs(
        correlation(
          (i) => at(i, 0),
          (i) => at(i, 1),
        ),
      ),
    ).toBeLessThan(0.025);
  });

  it('same seed, same bytes; other seed, other bytes', () => {
    const [a, b, c] = [5, 5, 6].map((seed) => exposeSensor(even(0.3, 400), sensor, createRandom(seed)).data);
    expect(a).toEqual(b);
    expect(a).not.toEqual(c);
  });

  it('clips at both ends', () => {
    expect(exposeSensor(even(1.5, 400), sensor, createRandom(1)).data.every((v) => v === 255)).toBe(true);
    expect(exposeSensor(even(0, 400), quiet, createRandom(1)).data.every((v) => v === 0)).toBe(true);
  });
});

function decode(code: number): number {
  const s = code / 255;
  return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
}
