import { describe, expect, it } from 'vitest';
import { linearFromSrgb, srgbFromLinear } from '../../src/imaging/srgb.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { blurGaussian } from '../../src/scene/blur.ts';
import { developPhotograph, type Processing } from '../../src/scene/develop-photograph.ts';

const quiet = { fullWell_e: 1e12, readNoise_e: 0, channelSensitivity: [1, 1, 1], tint: [1, 1, 1] } as const;
const [width, height] = [120, 80];
/** Dark on the left, bright on the right. */
function step(dark: number, bright: number, edge = 60) {
  const data = Float32Array.from({ length: width * height }, (_, i) => (i % width < edge ? dark : bright));
  return blurGaussian({ width, height, data }, 0.8);
}
const develop = (
  light: ReturnType<typeof step>,
  processing: Processing,
  sensor = quiet as Parameters<typeof developPhotograph>[1],
) => developPhotograph(light, sensor, processing, createRandom(1));
const code = ({ data }: ReturnType<typeof develop>, x: number, c = 1) => data[3 * (40 * width + x) + c]!;

describe('developPhotograph', () => {
  it('with nothing asked for is the sRGB code of the light, and clips', () => {
    const pixels = develop(step(0.1, 1.3), {});
    expect(code(pixels, 20)).toBe(Math.round(255 * srgbFromLinear(0.1)));
    expect(code(pixels, 100)).toBe(255);
  });
  it('sharpening gives an edge halos on both sides and leaves plain places alone', () => {
    const [plain, sharp] = [
      develop(step(0.1, 0.4), {}),
      develop(step(0.1, 0.4), { sharpen: { amount: 1, radius_px: 2 } }),
    ];
    expect(code(sharp, 62)).toBeGreaterThan(code(plain, 100) + 5);
    expect(code(sharp, 57)).toBeLessThan(code(plain, 20) - 5);
    expect(code(sharp, 20)).toBe(code(plain, 20));
  });
  it('contrast keeps the ends and the middle, and spreads what lies between', () => {
    const of = (light: number) => code(develop(step(light, light), { contrast: 0.5 }), 50);
    expect(of(0)).toBe(0);
    expect(Math.abs(of(linearFromSrgb(0.5)) - 127.5)).toBeLessThan(1);
    expect(of(linearFromSrgb(0.25))).toBeLessThan(0.25 * 255 - 5);
    expect(of(linearFromSrgb(0.75))).toBeGreaterThan(0.75 * 255 + 5);
  });
  it('local tones raise what stands in the dark', () => {
    const processing = { localTones: { amount: 0.3, radius_px: 10 } };
    const [plain, even] = [develop(step(0.01, 0.6), {}), develop(step(0.01, 0.6), processing)];
    expect(code(even, 10)).toBeGreaterThan(code(plain, 10));
    expect(code(even, 110)).toBeLessThan(code(plain, 110));
  });
  it('a mosaic leaves even light alone and colours an edge', () => {
    const pixels = develop(step(0.05, 0.6), { mosaic: true });
    for (const c of [0, 1, 2]) expect(code(pixels, 20, c)).toBe(Math.round(255 * srgbFromLinear(0.05)));
    // Beside the edge the colours come from other pixels than each other.
    const apart = (p: typeof pixels) =>
      Math.max(...Array.from({ length: 20 }, (_, i) => Math.abs(code(p, 50 + i, 0) - code(p, 50 + i, 1))));
    expect(apart(develop(step(0.05, 0.6), {}))).toBe(0);
    expect(apart(pixels)).toBeGreaterThan(10);
  });
  it('denoising lowers noise in plain places and keeps an edge', () => {
    const noisy = { ...quiet, fullWell_e: 2000 } as Parameters<typeof developPhotograph>[1];
    const spread = (p: ReturnType<typeof develop>) => {
      const codes = Array.from(
        { length: 40 * 60 },
        (_, i) => p.data[3 * ((10 + (i % 60)) * width + 5 + Math.floor(i / 60)) + 1]!,
      );
      const mean = codes.reduce((a, b) => a + b, 0) / codes.length;
      return Math.sqrt(codes.reduce((a, b) => a + (b - mean) ** 2, 0) / codes.length);
    };
    const [raw, clean] = [
      develop(step(0.2, 0.7), {}, noisy),
      develop(step(0.2, 0.7), { denoise: { threshold: 0.05 } }, noisy),
    ];
    expect(spread(clean)).toBeLessThan(0.5 * spread(raw));
    expect(code(clean, 100) - code(clean, 20)).toBeGreaterThan(80);
  });
  it('lateral colour draws red larger and blue smaller about the middle', () => {
    const edgeOf = (p: ReturnType<typeof develop>, c: number) => {
      // Where the light passes the middle between dark and bright.
      for (let x = 80; x < 118; x++) {
        const [a, b] = [linearFromSrgb(code(p, x, c) / 255), linearFromSrgb(code(p, x + 1, c) / 255)];
        if (a < 0.35 && b >= 0.35) return x + (0.35 - a) / (b - a);
      }
      return Number.NaN;
    };
    const pixels = develop(step(0.1, 0.6, 100), { lateralColour: { red: 0.01, blue: -0.005 } });
    // The edge stands at 99.5, 40 px right of the middle at 59.5.
    expect(edgeOf(pixels, 1)).toBeCloseTo(99.5, 1);
    expect(edgeOf(pixels, 0) - edgeOf(pixels, 1)).toBeCloseTo(0.4, 1);
    expect(edgeOf(pixels, 2) - edgeOf(pixels, 1)).toBeCloseTo(-0.2, 1);
  });
});
