import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import {
  classifyEyes,
  MAP_COLUMNS,
  mapLeak,
  type PlacedStrength,
  relativeStrengths,
} from '../../src/light/eye-matrix.ts';
import { layoutChart } from '../../src/target/chart.ts';

/** Right-eye over left-eye picture for leaks through the left and the right lens, known to `part` of themselves. */
const ratios = (left: number, right: number, part = 0.02) => ({
  left: { value: left, u: part * left },
  right: { value: 1 / right, u: part / right },
});

describe('classifyEyes', () => {
  it.each([
    ['separated', 0.004, 0.005],
    ['balanced-leak', 0.07, 0.06],
    ['one-sided-leak', 0.044, 0.0012],
    ['one-sided-leak', 0.003, 0.2],
    ['swapped', 250, 200],
    ['both-in-both', 1, 1],
    ['both-in-both', 0.9, 1.1],
    ['one-eye-missing', 0.02, 60],
    ['one-eye-missing', 50, 0.1],
  ] as const)('%s: leaks of %d and %d', (expected, left, right) => {
    expect(classifyEyes(ratios(left, right))).toBe(expected);
  });

  it('takes a picture that is weak through both lenses alike for missing', () => {
    expect(classifyEyes({ left: { value: 0.1, u: 0.002 }, right: { value: 0.1, u: 0.002 } })).toBe('one-eye-missing');
  });

  it('does not decide what two uncertainties leave open', () => {
    expect(classifyEyes(ratios(0.0098, 0.004, 0.03))).toBe('undecided');
    expect(classifyEyes(ratios(0.04, 0.021, 0.05))).toBe('undecided');
    expect(classifyEyes(ratios(0.97, 0.4, 0.05))).toBe('undecided');
  });
});

describe('relativeStrengths', () => {
  it('gives every cell as a part of the strongest, with the exposures’ uncertainty from lens to lens', () => {
    const strengths = relativeStrengths(ratios(0.04, 0.01, 0.05), {
      left: { eye: 'left', strength: { value: 0.4, u: 0.001 } },
      right: { eye: 'right', strength: { value: 0.5, u: 0.001 } },
    });
    expect(strengths.right.right).toEqual({ value: 1, u: 0 });
    expect(strengths.left.left.value).toBeCloseTo(0.8, 12);
    expect(strengths.left.left.u).toBeCloseTo(Math.hypot(0.002, 0.016), 12);
    expect(strengths.left.right.value).toBeCloseTo(0.032, 12);
    expect(strengths.left.right.u).toBeCloseTo(Math.hypot(0.8 * 0.002, 0.04 * strengths.left.left.u), 12);
    expect(strengths.right.left.value).toBeCloseTo(0.01, 12);
    expect(strengths.right.left.u).toBeCloseTo(0.0005, 12);
  });
});

describe('mapLeak', () => {
  const chart = layoutChart();
  const flat = { strengthAt: () => 0.5, scatter: 0 };
  const weaker = (leakAt: (at: Point) => number, noise: number, seed: number): PlacedStrength[] => {
    const random = createRandom(seed);
    return chart.marks
      .filter(({ eye }) => eye === 'right')
      .map((mark) => ({
        at: mark,
        chart: mark,
        contrast: 0.5 * (leakAt(mark) + noise * random.normal()),
        contrastU: 0.5 * noise,
      }));
  };

  it('shows a stain where it is', () => {
    const map = mapLeak(
      weaker(({ x, y }) => (x > 0.75 && y > 0.2 ? 0.06 : 0.01), 0, 1),
      flat,
      0,
      chart.aspect,
    );
    expect(map).toHaveLength(15);
    expect(map[MAP_COLUMNS - 1]!.value).toBeGreaterThan(0.04);
    expect(map[0]!.value).toBeCloseTo(0.01, 12);
    expect(map[7]!.value).toBeCloseTo(0.01, 12);
  });

  it('lies within two uncertainties of the truth about nineteen times in twenty', () => {
    let inside = 0;
    let all = 0;
    for (let seed = 1; seed <= 60; seed++) {
      for (const cell of mapLeak(
        weaker(() => 0.01, 0.002, seed),
        flat,
        0,
        chart.aspect,
      )) {
        all++;
        if (Math.abs(cell!.value - 0.01) <= 2 * cell!.u) inside++;
      }
    }
    expect(inside / all).toBeGreaterThan(0.9);
    expect(inside / all).toBeLessThan(0.99);
  });

  it('is silent where fewer than two marks were measured', () => {
    const some = weaker(() => 0.01, 0.0001, 2).filter(({ chart: { x } }) => x < 0.3);
    const map = mapLeak(some, flat, 0, chart.aspect);
    expect(map[MAP_COLUMNS - 1]).toBeNull();
    expect(map[0]).not.toBeNull();
    expect(mapLeak([], flat, 0, chart.aspect).every((cell) => cell === null)).toBe(true);
  });

  it('adds what all contrasts may be off alike, against the light of each place', () => {
    const marks = weaker(() => 0.01, 0, 3);
    const [without, half] = [0, 0.001].map((commonU) => mapLeak(marks, flat, commonU, chart.aspect)[0]!.u);
    expect(Math.sqrt(half! ** 2 - without! ** 2)).toBeCloseTo(0.002, 9);
  });
});
