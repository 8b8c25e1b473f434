import { beforeAll, describe, expect, it } from 'vitest';
import { transfer } from '../../src/kernel/homography.ts';
import { sightMarks } from '../../src/vision/sight-marks.ts';
import { loadOpenCv, type OpenCv } from '../../src/vision/opencv/load-opencv.ts';
import { CHART, coverageOf, PHOTO, PHOTO_FROM_CHART } from './photograph-chart.ts';
import { addNoise, pixelsOf } from './photograph-marks.ts';

let cv: OpenCv;
beforeAll(async () => {
  ({ cv } = await loadOpenCv());
});

const SHARP_PX = 0.5;
const left = coverageOf('left', PHOTO_FROM_CHART, SHARP_PX);
const right = coverageOf('right', PHOTO_FROM_CHART, SHARP_PX);
const photograph = (light: ArrayLike<number>, width = PHOTO.width, height = PHOTO.height) =>
  pixelsOf(light, width, height, 8);
const ofEye = (eye: 'left' | 'right') => CHART.marks.filter((mark) => mark.eye === eye);

describe('sightMarks', () => {
  it.each([0.5, 1])(
    'sights and names all marks of one eye’s picture at a blur of %d px, each to a pixel',
    (blur_px) => {
      const coverage = coverageOf('left', PHOTO_FROM_CHART, blur_px);
      const { marks } = sightMarks(cv, photograph(coverage.map((c) => 0.01 + 0.5 * c)), CHART);
      expect(new Set(marks.map(({ mark }) => mark.id))).toEqual(new Set(ofEye('left').map(({ id }) => id)));
      for (const { mark, centre, mirrored } of marks) {
        const expected = transfer(PHOTO_FROM_CHART, mark);
        expect(mirrored).toBe(false);
        expect(Math.hypot(centre.x - expected.x, centre.y - expected.y)).toBeLessThan(1);
      }
    },
  );

  it('sights both eyes’ marks where both pictures are strong, under noise', () => {
    const light = addNoise(
      left.map((c, i) => 0.02 + 0.3 * c + 0.25 * right[i]),
      { floor: 0.004, photon: 1e-4 },
      2,
    );
    const { marks } = sightMarks(cv, photograph(light), CHART);
    expect(marks.length).toBeGreaterThan(0.95 * CHART.marks.length);
    // One nonsense word in ten is within a sector of some mark's; fitting views sorts those out.
    const inPlace = marks.filter(({ mark, centre, mirrored }) => {
      const expected = transfer(PHOTO_FROM_CHART, mark);
      return !mirrored && Math.hypot(centre.x - expected.x, centre.y - expected.y) < 1.5;
    });
    expect(marks.length - inPlace.length).toBeLessThanOrEqual(2);
  });

  it('knows a mirrored photograph', () => {
    const reversed = left.map((_, i) => {
      const column = i % PHOTO.width;
      return 0.01 + 0.5 * left[i - column + PHOTO.width - 1 - column];
    });
    const { marks } = sightMarks(cv, photograph(reversed), CHART);
    expect(marks.length).toBeGreaterThan(0.95 * ofEye('left').length);
    expect(marks.every(({ mirrored }) => mirrored)).toBe(true);
  });

  it('knows an upside-down photograph as what it is: turned, not mirrored', () => {
    const turned = left.map((_, i) => 0.01 + 0.5 * left[left.length - 1 - i]);
    const { marks } = sightMarks(cv, photograph(turned), CHART);
    expect(marks.length).toBeGreaterThan(0.95 * ofEye('left').length);
    expect(marks.every(({ mirrored }) => !mirrored)).toBe(true);
  });

  it('finds enough marks of a target that takes a fifth of the photograph’s width', () => {
    const [width, height] = [7500, 1000];
    const light = new Float32Array(width * height).fill(0.01);
    for (let y = 0; y < PHOTO.height; y++) {
      for (let x = 0; x < PHOTO.width; x++) light[(y + 150) * width + x + 3000] += 0.5 * left[y * PHOTO.width + x];
    }
    const { marks } = sightMarks(cv, photograph(light, width, height), CHART);
    expect(marks.length).toBeGreaterThanOrEqual(16);
    for (const { mark, centre } of marks) {
      const expected = transfer(PHOTO_FROM_CHART, mark);
      expect(Math.hypot(centre.x - 3000 - expected.x, centre.y - 150 - expected.y)).toBeLessThan(1.5);
    }
  });

  it('sights nothing in the dark and in an even picture', () => {
    for (const level of [0, 0.2]) {
      const { marks, saddles, read } = sightMarks(
        cv,
        photograph(new Float64Array(800 * 600).fill(level), 800, 600),
        CHART,
      );
      expect([marks.length, saddles, read]).toEqual([0, 0, 0]);
    }
  });

  it('sights no mark in noise', () => {
    const light = addNoise(new Float64Array(1200 * 800).fill(0.3), { floor: 0.1, photon: 0 }, 6);
    const { marks, saddles } = sightMarks(cv, photograph(light, 1200, 800), CHART);
    expect(saddles).toBeGreaterThan(100);
    expect(marks).toEqual([]);
  });
});
