import { describe, expect, it } from 'vitest';
import { EYES } from '../../src/kernel/eye.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { BRIGHT_AXIS_DEG, type Chart, layoutChart, type Mark, SPREAD } from '../../src/target/chart.ts';
import { codeDistance, halfTurned, mirrored } from '../../src/target/codebook.ts';

const NAMED_SHAPES = [1.33, 1.37, 1.66, 1.85, 2.2, 2.35, 2.39, 2.6];
const ALL_SHAPES = Array.from({ length: 128 }, (_, i) => Math.round(133 + i) / 100);

const marksOf = (chart: Chart, eye: 'left' | 'right') => chart.marks.filter((mark) => mark.eye === eye);

/** True when marks stand on every side of the picture centre: some of them in every open half-plane through it. */
function surroundCentre(marks: readonly Mark[]): boolean {
  return directions().every((along) => marks.some((mark) => along(mark) > 1e-9));
}

function directions(): ((mark: Mark) => number)[] {
  return Array.from({ length: 720 }, (_, i) => {
    const [c, s] = [Math.cos((i * Math.PI) / 360), Math.sin((i * Math.PI) / 360)];
    return ({ x, y }) => c * x + s * y;
  });
}

describe('the chart', () => {
  it('refuses shapes outside its range', () => {
    for (const aspect of [1.32, 2.61, Number.NaN, -1]) expect(() => layoutChart(aspect)).toThrow(RangeError);
  });

  it('has at least 45 marks for each eye in every picture shape from 1.33 to 2.6', () => {
    for (const aspect of ALL_SHAPES) {
      for (const eye of EYES)
        expect(marksOf(layoutChart(aspect), eye).length, `${aspect} ${eye}`).toBeGreaterThanOrEqual(45);
    }
  });

  it("spreads each eye's mark centres over 95 % of the picture's width and height", () => {
    for (const aspect of ALL_SHAPES) {
      for (const eye of EYES) {
        const marks = marksOf(layoutChart(aspect), eye);
        const extent = (values: number[]) => Math.max(...values) - Math.min(...values);
        expect(extent(marks.map(({ x }) => x)) / aspect).toBeCloseTo(SPREAD, 9);
        expect(extent(marks.map(({ y }) => y))).toBeCloseTo(SPREAD, 9);
      }
    }
  });

  it('is the same chart every time, and another one for another picture shape', () => {
    expect(layoutChart(2.35)).toEqual(layoutChart(2.35));
    const words = (aspect: number) => layoutChart(aspect).marks.map(({ word }) => word);
    expect(words(2.35)).not.toEqual(words(2.39));
  });

  it.each(NAMED_SHAPES)(
    '%s: identifies eye and mark from any one mark, and knows a turned or mirrored picture',
    (aspect) => {
      const { marks } = layoutChart(aspect);
      expect(new Set(marks.map(({ id }) => id)).size).toBe(marks.length);
      let least = 16;
      for (const a of marks) {
        for (const b of marks) {
          const forms = [
            halfTurned(b.word),
            mirrored(b.word),
            mirrored(halfTurned(b.word)),
            ...(a === b ? [] : [b.word]),
          ];
          for (const form of forms) least = Math.min(least, codeDistance(a.word, form));
        }
      }
      expect(least).toBeGreaterThanOrEqual(4);
    },
  );

  it('tells a person the eyes apart: a word in each, and bright axes a quarter turn apart', () => {
    expect(BRIGHT_AXIS_DEG.left - BRIGHT_AXIS_DEG.right).toBe(90);
    for (const aspect of NAMED_SHAPES) {
      const { lettering } = layoutChart(aspect);
      expect(lettering.map(({ eye, text }) => [eye, text])).toEqual([
        ['left', 'LEFT'],
        ['right', 'RIGHT'],
      ]);
      expect(lettering[0]!.x).toBeLessThan(0);
      expect(lettering[1]!.x).toBeGreaterThan(0);
    }
  });

  it.each(NAMED_SHAPES)('%s: with any quarter of the marks gone the others still surround the centre', (aspect) => {
    const chart = layoutChart(aspect);
    for (const eye of EYES) {
      const marks = marksOf(chart, eye);
      const gone = Math.ceil(marks.length / 4);
      // No choice of a quarter can empty a half-plane that holds more than a quarter.
      for (const along of directions()) expect(marks.filter((mark) => along(mark) > 1e-9).length).toBeGreaterThan(gone);
      const random = createRandom(20);
      for (let trial = 0; trial < 50; trial++) {
        const left = marks
          .map((mark) => ({ mark, key: random.uniform() }))
          .sort((a, b) => a.key - b.key)
          .slice(gone)
          .map(({ mark }) => mark);
        expect(left.length).toBeGreaterThanOrEqual(33);
        expect(surroundCentre(left)).toBe(true);
        expect(new Set(left.map(({ word }) => word)).size).toBe(left.length);
      }
    }
  });

  it.each(NAMED_SHAPES)('%s: with any corner cut off the others still surround the centre', (aspect) => {
    const chart = layoutChart(aspect);
    let fewest = Infinity;
    for (const eye of EYES) {
      for (const sx of [-1, 1]) {
        for (const sy of [-1, 1]) {
          // A slanting cut that takes a quarter of the picture, and a whole quarter of it.
          const slanting = marksOf(chart, eye).filter(({ x, y }) => (sx * x) / aspect + sy * y < 1 - Math.SQRT1_2);
          const square = marksOf(chart, eye).filter(({ x, y }) => !(sx * x > 0 && sy * y > 0));
          for (const left of [slanting, square]) {
            fewest = Math.min(fewest, left.length);
            expect(surroundCentre(left)).toBe(true);
          }
        }
      }
    }
    expect(fewest).toBeGreaterThanOrEqual(30);
  });
});
