import { describe, expect, it } from 'vitest';
import { projectJoint } from '../../src/geometry/fit-joint-views.ts';
import { type MeasuredPictures, measurePictures } from '../../src/geometry/measure-pictures.ts';
import { TERMS } from '../../src/geometry/misalignment.ts';
import { type BudgetPriors, defaultPriors } from '../../src/geometry/budget-priors.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { chiSquaredUpperTail } from '../../src/kernel/statistics.ts';
import { ASPECT, seeWarped } from './warped-views.ts';

const source = 'test';
const SHOWN: BudgetPriors = { printMark: { u: 0, length_ih: 0.4, source }, printEyes: { u: 0, source } };

function measured(result: ReturnType<typeof measurePictures>): MeasuredPictures {
  if (result.outcome === 'refused') throw new Error(result.code);
  return result;
}

/** The same house photographed again: other noise, and the right picture moved up by `up` px. */
function again(seed: number, noise: number, up = 0, sigma_px = 0.01) {
  const views = seeWarped({ noise_px: 1e-9 }, seed);
  const random = createRandom(1000 * seed + noise);
  return {
    views,
    marks: views.marks.map((mark) => ({
      ...mark,
      covariance: [sigma_px ** 2, 0, sigma_px ** 2] as const,
      seen: {
        x: mark.seen.x + sigma_px * random.normal(),
        y: mark.seen.y + sigma_px * random.normal() - (mark.eye === 'right' ? up : 0),
      },
    })),
  };
}

describe('measurePictures of one photograph', () => {
  const { views, marks } = again(71, 0);
  const result = measured(measurePictures([{ marks, size: views.size, time: 0 }], ASPECT, SHOWN));

  it('is the field and its budget', () => {
    TERMS.forEach((term, k) => {
      expect(result.values[k]).toBe(result.single[0].field.terms[term].value);
      expect(Math.abs(result.values[k] - views.truth[term])).toBeLessThan(4 * result.budget.terms[term].u);
    });
    expect(result.repeats).toBeUndefined();
  });

  it('knows where every point is seen', () => {
    for (const { eye, at, seen } of views.marks.slice(0, 8)) {
      const p = projectJoint(result.single[0].fit, eye, at);
      expect(Math.hypot(p.x - seen.x, p.y - seen.y)).toBeLessThan(0.02);
    }
  });
});

describe('measurePictures of several', () => {
  it('three still bare photographs scatter as their u says', () => {
    let sum = 0;
    let degrees = 0;
    for (let seed = 80; seed < 87; seed++) {
      const sets = [0, 1, 2].map((noise) => {
        const { views, marks } = again(seed, noise);
        return { marks, size: views.size, time: noise };
      });
      const { single } = measured(measurePictures(sets, ASPECT, SHOWN));
      for (const term of ['verticalOffset', 'rotation', 'keystoneV'] as const) {
        const values = single.map(({ field }) => field.terms[term]);
        const middle = values.reduce((total, { value }) => total + value / 3, 0);
        sum += values.reduce((total, { value, uRepeat }) => total + ((value - middle) / uRepeat) ** 2, 0);
        degrees += 2;
      }
    }
    expect(chiSquaredUpperTail(sum, degrees)).toBeGreaterThan(0.01);
    expect(1 - chiSquaredUpperTail(sum, degrees)).toBeGreaterThan(0.01);
  });

  it('pairs on moving film say what they scatter, not what was assumed', () => {
    const priors = { ...defaultPriors(8.916, { left: 6, right: 6 }), ...SHOWN };
    const random = createRandom(9);
    const jump_px = 0.9;
    const moves = Array.from({ length: 6 }, () => jump_px * random.normal());
    const { views } = again(95, 0);
    const sets = moves.map((up, k) => ({ marks: again(95, k, up).marks, size: views.size, time: k }));
    const { budget, values, repeats } = measured(measurePictures(sets, ASPECT, priors));
    const { lines } = budget.terms.verticalOffset;
    expect(lines.map(({ component }) => component)).not.toContain('film-jump');
    expect(lines[0].component).toBe('repeats');
    expect(repeats!.quantities[0].external).toBeGreaterThan(0);
    expect(Math.abs(values[0] - views.truth.verticalOffset)).toBeLessThan(3 * budget.terms.verticalOffset.expanded);
  });

  it('names the one that lies apart, and leaves it out', () => {
    const sets = [0, 1, 2, 3, 4].map((k) => {
      const { views, marks } = again(97, k, k === 3 ? 2 : 0);
      return { marks, size: views.size, time: k };
    });
    const result = measured(measurePictures(sets, ASPECT, SHOWN));
    expect(result.repeats!.outlier!.index).toBe(3);
    const { views } = again(97, 0);
    expect(Math.abs(result.values[0] - views.truth.verticalOffset)).toBeLessThan(
      4 * result.budget.terms.verticalOffset.u,
    );
  });

  it('says which set refused', () => {
    const { views, marks } = again(98, 0);
    const sets = [
      { marks, size: views.size, time: 0 },
      { marks: marks.slice(0, 7), size: views.size, time: 1 },
    ];
    expect(measurePictures(sets, ASPECT, SHOWN)).toMatchObject({ code: 'too-few-marks', facts: { set: 1 } });
    expect(() => measurePictures([], ASPECT, SHOWN)).toThrow(RangeError);
  });
});
