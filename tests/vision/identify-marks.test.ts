import { describe, expect, it } from 'vitest';
import { layOutChart } from '../../src/target/chart.ts';
import { CODE_SECTORS, halfTurned, mirrored } from '../../src/target/codebook.ts';
import { buildCodebook, identifyMarks } from '../../src/vision/identify-marks.ts';
import type { ReadMark } from '../../src/vision/read-mark.ts';

const chart = layOutChart();
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
    const other = layOutChart(2.0);
    const found = identifyMarks(
      book,
      other.marks.map((mark) => readOf(mark.word)),
    );
    const same = found.filter(({ mark }) => other.marks.find(({ word }) => word === mark.word)?.id === mark.id);
    expect(same.length).toBeLessThan(0.1 * other.marks.length);
  });
});
