import { beforeAll, describe, expect, it } from 'vitest';
import { transfer } from '../../src/kernel/homography.ts';
import { detectMarks, buildCodebook, identifyMarks } from '../../src/vision/detect-marks.ts';
import { loadOpenCv, type OpenCv } from '../../src/vision/opencv/load-opencv.ts';
import { CHART, coverageOf, PHOTO, PHOTO_FROM_CHART } from './photograph-chart.ts';
import { addNoise, pixelsOf } from './photograph-marks.ts';
import { layoutChart } from '../../src/target/chart.ts';
import { CODE_SECTORS, halfTurned, mirrored } from '../../src/target/codebook.ts';
import type { ReadMark } from '../../src/vision/read-mark.ts';

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

describe('detectMarks', () => {
  it.each([0.5, 1])(
    'sights and names all marks of one eye’s picture at a blur of %d px, each to a pixel',
    (blur_px) => {
      const coverage = coverageOf('left', PHOTO_FROM_CHART, blur_px);
      const { marks } = detectMarks(cv, photograph(coverage.map((c) => 0.01 + 0.5 * c)), CHART);
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
    const { marks } = detectMarks(cv, photograph(light), CHART);
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
    const { marks } = detectMarks(cv, photograph(reversed), CHART);
    expect(marks.length).toBeGreaterThan(0.95 * ofEye('left').length);
    expect(marks.every(({ mirrored }) => mirrored)).toBe(true);
  });

  it('knows an upside-down photograph as what it is: turned, not mirrored', () => {
    const turned = left.map((_, i) => 0.01 + 0.5 * left[left.length - 1 - i]);
    const { marks } = detectMarks(cv, photograph(turned), CHART);
    expect(marks.length).toBeGreaterThan(0.95 * ofEye('left').length);
    expect(marks.every(({ mirrored }) => !mirrored)).toBe(true);
  });

  it('finds enough marks of a target that takes a fifth of the photograph’s width', () => {
    const [width, height] = [7500, 1000];
    const light = new Float32Array(width * height).fill(0.01);
    for (let y = 0; y < PHOTO.height; y++) {
      for (let x = 0; x < PHOTO.width; x++) light[(y + 150) * width + x + 3000] += 0.5 * left[y * PHOTO.width + x];
    }
    const { marks } = detectMarks(cv, photograph(light, width, height), CHART);
    expect(marks.length).toBeGreaterThanOrEqual(16);
    for (const { mark, centre } of marks) {
      const expected = transfer(PHOTO_FROM_CHART, mark);
      expect(Math.hypot(centre.x - 3000 - expected.x, centre.y - 150 - expected.y)).toBeLessThan(1.5);
    }
  });

  it('sights nothing in the dark and in an even picture', () => {
    for (const level of [0, 0.2]) {
      const { marks, saddles, read } = detectMarks(
        cv,
        photograph(new Float64Array(800 * 600).fill(level), 800, 600),
        CHART,
      );
      expect([marks.length, saddles, read]).toEqual([0, 0, 0]);
    }
  });

  it('sights no mark in noise', () => {
    const light = addNoise(new Float64Array(1200 * 800).fill(0.3), { floor: 0.1, photon: 0 }, 6);
    const { marks, saddles } = detectMarks(cv, photograph(light, 1200, 800), CHART);
    expect(saddles).toBeGreaterThan(100);
    expect(marks).toEqual([]);
  });
});

const chart = layoutChart();
const book = buildCodebook(chart);

function readOf(word: number, more: Partial<ReadMark> = {}): ReadMark {
  return { centre: { x: 5, y: 6 }, a1: { x: 9, y: 0 }, a2: { x: 0, y: -9 }, word, contrast: 0.5, doubtful: 0, ...more };
}

describe('identifyMarks', () => {
  it('knows every mark of the chart by its word', () => {
    const found = identifyMarks(
      book,
      chart.marks.map((mark) => readOf(mark.word)),
    );
    expect(found.map(({ mark }) => mark.id)).toEqual(chart.marks.map(({ id }) => id));
    expect(found.every((f) => !f.mirrored && f.repaired === 0)).toBe(true);
  });

  it('knows it read from the other end of the axis, and in a mirrored picture from either end', () => {
    for (const mark of chart.marks) {
      const forms = [
        [halfTurned(mark.word), false],
        [mirrored(mark.word), true],
        [mirrored(halfTurned(mark.word)), true],
      ] as const;
      for (const [word, isMirrored] of forms) {
        expect(identifyMarks(book, [readOf(word)])).toEqual([
          { mark, centre: { x: 5, y: 6 }, contrast: 0.5, mirrored: isMirrored, repaired: 0 },
        ]);
      }
    }
  });

  it('repairs any one wrong sector of any mark, whichever way round', () => {
    for (const mark of chart.marks) {
      for (let j = 0; j < CODE_SECTORS; j++) {
        for (const [word, isMirrored] of [
          [mark.word, false],
          [halfTurned(mark.word), false],
          [mirrored(mark.word), true],
        ] as const) {
          const [found] = identifyMarks(book, [readOf(word ^ (1 << j))]);
          expect(found).toMatchObject({ mark: { id: mark.id }, mirrored: isMirrored, repaired: 1 });
        }
      }
    }
  });

  it('never takes a word with two wrong sectors for its mark', () => {
    for (const mark of chart.marks) {
      for (let j = 0; j < CODE_SECTORS; j++) {
        for (let k = 0; k < j; k++) {
          const found = identifyMarks(book, [readOf(mark.word ^ (1 << j) ^ (1 << k))]);
          // Refused, unless the word happens to lie next to another mark's: never this mark, never unrepaired.
          for (const { mark: other, repaired } of found) {
            expect(other.id).not.toBe(mark.id);
            expect(repaired).toBe(1);
          }
        }
      }
    }
  });

  it('refuses most words with two wrong sectors altogether', () => {
    let refused = 0;
    let asked = 0;
    for (const mark of chart.marks) {
      for (let j = 1; j < CODE_SECTORS; j++) {
        asked++;
        if (identifyMarks(book, [readOf(mark.word ^ 1 ^ (1 << j))]).length === 0) refused++;
      }
    }
    expect(refused / asked).toBeGreaterThan(0.5);
  });

  it('keeps the better of two readings of one mark', () => {
    const [mark] = chart.marks;
    const clean = readOf(mark.word, { centre: { x: 1, y: 1 }, doubtful: 2 });
    const repaired = readOf(mark.word ^ 1, { centre: { x: 2, y: 2 } });
    const surest = readOf(mark.word, { centre: { x: 3, y: 3 }, doubtful: 1 });
    expect(identifyMarks(book, [repaired, clean])).toHaveLength(1);
    expect(identifyMarks(book, [repaired, clean])[0]).toMatchObject({ centre: { x: 1, y: 1 }, repaired: 0 });
    expect(identifyMarks(book, [clean, surest, repaired])[0].centre).toEqual({ x: 3, y: 3 });
  });

  it('keeps a mirrored reading beside an upright one', () => {
    const [mark] = chart.marks;
    const found = identifyMarks(book, [readOf(mark.word), readOf(mirrored(mark.word))]);
    expect(found.map((f) => f.mirrored)).toEqual([false, true]);
  });

  it('gives nothing for words that no mark has', () =>
    expect(identifyMarks(book, [readOf(0), readOf(0xffff)])).toEqual([]));

  it('a chart of another shape is read as nonsense, not as this chart: hardly a mark in its place', () => {
    const other = layoutChart(2.0);
    const found = identifyMarks(
      book,
      other.marks.map((mark) => readOf(mark.word)),
    );
    const same = found.filter(({ mark }) => other.marks.find(({ word }) => word === mark.word)?.id === mark.id);
    expect(same.length).toBeLessThan(0.1 * other.marks.length);
  });
});
