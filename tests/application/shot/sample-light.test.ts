import { describe, expect, it } from 'vitest';
import { type ExaminedShot, examineShot } from '../../../src/application/shot/examine-shot.ts';
import { placeInFrame, sampleFlat, sampleLuminance, sampleMarks } from '../../../src/application/shot/sample-light.ts';
import type { Pixels } from '../../../src/imaging/pixels.ts';
import { linearFromSrgb, srgbFromLinear } from '../../../src/imaging/srgb.ts';
import { addNoise } from '../../vision/photograph-marks.ts';
import { CHART } from '../../vision/photograph-chart.ts';
import { PHOTO } from '../../vision/photograph-chart.ts';
import { lightOfChart, photographChart } from '../photograph-chart.ts';

function examined(pixels: Pixels): ExaminedShot {
  const shot = examineShot(undefined, pixels, CHART);
  if (shot.outcome === 'refused') throw new Error(shot.code);
  return shot;
}

/** The same light in three channels of different strength. */
function tinted(light: Float64Array, tint: readonly [number, number, number]): Pixels {
  const data = new Uint8Array(light.length * 3);
  light.forEach((value, i) => {
    for (let k = 0; k < 3; k++)
      data[3 * i + k] = Math.round(255 * srgbFromLinear(Math.min(1, Math.max(0, value * tint[k]))));
  });
  return { width: PHOTO.width, height: PHOTO.height, channels: 3, data };
}

const even = (width: number, height: number, code: number): Pixels => ({
  width,
  height,
  channels: 1,
  data: new Uint8Array(width * height).fill(code),
});

describe('sampleMarks', () => {
  const shot = examined(photographChart({ left: 0.5, right: 0.003, seed: 4 }));

  it('gives the light of every mark of the shown picture, and none of the one that leaks', () => {
    const samples = sampleMarks(shot, 'left');
    expect(samples).toHaveLength(CHART.marks.filter(({ eye }) => eye === 'left').length);
    for (const { light, u, channels, id } of samples) {
      expect(Math.abs(light / 0.5 - 1), id).toBeLessThan(0.02);
      expect(u).toBeGreaterThan(0);
      expect(channels).toBeUndefined();
    }
    expect(sampleMarks(shot, 'right')).toEqual([]);
  });

  it('gives the proportions of the channels, whose luminance is the mark’s', () => {
    const light = addNoise(lightOfChart({ left: 0.5, right: 0, seed: 1 }), { floor: 0.0008, photon: 3e-5 }, 7);
    const coloured = sampleMarks(examined(tinted(light, [1, 0.9, 0.6])), 'left').filter(({ channels }) => channels);
    expect(coloured.length).toBeGreaterThan(20);
    for (const { light: luminance, channels } of coloured) {
      const [red, green, blue] = channels!;
      expect(Math.abs(red.value / green.value - 1 / 0.9)).toBeLessThan(0.02);
      expect(Math.abs(blue.value / green.value - 0.6 / 0.9)).toBeLessThan(0.02);
      expect(0.2126 * red.value + 0.7152 * green.value + 0.0722 * blue.value).toBeCloseTo(luminance, 9);
    }
  });

  it('leaves burnt-out marks out', () => {
    const one = shot.marks.left.map((mark, i) => (i === 0 ? { ...mark, clipped: true } : mark));
    const samples = sampleMarks({ ...shot, marks: { ...shot.marks, left: one } }, 'left');
    expect(samples.map(({ id }) => id)).not.toContain(one[0].mark.id);
  });
});

describe('placeInFrame', () => {
  it('counts from the middle in half diagonals', () => {
    const pixels = even(601, 401, 0);
    expect(placeInFrame(pixels, { x: 300, y: 200 })).toEqual({ x: 0, y: 0 });
    const { x, y } = placeInFrame(pixels, { x: 600, y: 400 });
    expect(Math.hypot(x, y)).toBeCloseTo(1, 2);
    expect([Math.sign(x), Math.sign(y)]).toEqual([1, 1]);
  });
});

describe('sampleFlat', () => {
  it('covers the frame evenly, out to its corners', () => {
    const samples = sampleFlat(even(600, 400, 128));
    expect(samples.length).toBeGreaterThan(200);
    expect(Math.max(...samples.map(({ place }) => Math.hypot(place.x, place.y)))).toBeGreaterThan(0.9);
    const sum = samples.reduce((total, { place }) => total + place.x + place.y, 0);
    expect(Math.abs(sum / samples.length)).toBeLessThan(0.02);
    // IEC 61966-2-1: code 128 is 0.21586 of full light. VERIFIED
    for (const { light } of samples) expect(light).toBeCloseTo(0.21586, 4);
  });
  it('leaves burnt-out places out', () => expect(sampleFlat(even(600, 400, 255))).toEqual([]));
});

describe('sampleLuminance', () => {
  it('is undefined over the edge and for a disc of one pixel', () => {
    const pixels = even(100, 80, 90);
    expect(sampleLuminance(pixels, { x: 50, y: 40 }, 5)).toBeDefined();
    expect(sampleLuminance(pixels, { x: 3, y: 40 }, 5)).toBeUndefined();
    expect(sampleLuminance(pixels, { x: 50, y: 40 }, 0.5)).toBeUndefined();
  });

  it('of one code all over is known to the rounding of a code, and not for certain', () => {
    const { value, u } = sampleLuminance(even(100, 80, 90), { x: 50, y: 40 }, 5)!;
    const step = linearFromSrgb(91 / 255) - linearFromSrgb(90 / 255);
    expect(value).toBeCloseTo(linearFromSrgb(90 / 255), 8);
    expect(u).toBeCloseTo(step / Math.sqrt(12), 8);
  });
});
