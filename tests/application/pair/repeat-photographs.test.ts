import { describe, expect, it } from 'vitest';
import { repeatBare } from '../../../src/application/pair/repeat-photographs.ts';
import type { ExaminedPhotograph } from '../../../src/application/shot/examine-shot.ts';
import { defaultPriors } from '../../../src/geometry/budget-priors.ts';
import { fitJointViews, type JointFit } from '../../../src/geometry/fit-joint-views.ts';
import { measureField } from '../../../src/geometry/measure-field.ts';
import { budgetMisalignment } from '../../../src/geometry/misalignment-budget.ts';
import { createRandom } from '../../../src/kernel/random.ts';
import { chiSquaredUpperTail } from '../../../src/kernel/statistics.ts';
import { ASPECT, seeWarped } from '../../geometry/warped-views.ts';

const H = 8.916;

/** The same house photographed again: other noise, and the right picture moved up by `up` px. */
function again(seed: number, noise: number, up = 0, sigma_px = 0.01) {
  const { marks, size, truth } = seeWarped({ noise_px: 1e-9 }, seed);
  const random = createRandom(1000 * seed + noise);
  const moved = marks.map((mark) => ({
    ...mark,
    covariance: [sigma_px ** 2, 0, sigma_px ** 2] as const,
    seen: {
      x: mark.seen.x + sigma_px * random.normal(),
      y: mark.seen.y + sigma_px * random.normal() - (mark.eye === 'right' ? up : 0),
    },
  }));
  const fit = fitJointViews(moved, size, ASPECT) as JointFit;
  const field = measureField(fit);
  return { truth, field, budget: budgetMisalignment(fit, field, defaultPriors(H, 'one')) };
}

const named = (count: number) =>
  Array.from({ length: count }, (_, k) => ({ role: 'bare', photo: { file: `${k}.jpg` } }) as ExaminedPhotograph);

function combine(sets: readonly ReturnType<typeof again>[]) {
  const repeated = repeatBare(sets, named(sets.length), ASPECT);
  const { field, budget } = sets[repeated.representative]!;
  return { ...repeated, ...repeated.combine(field, budget) };
}

describe('repeatBare', () => {
  it('of still photographs: they scatter as their u says', () => {
    let [sum, degrees] = [0, 0];
    for (let seed = 80; seed < 87; seed++) {
      const single = [0, 1, 2].map((noise) => again(seed, noise).field);
      for (const term of ['verticalOffset', 'rotation', 'keystoneV'] as const) {
        const values = single.map(({ terms }) => terms[term]);
        const middle = values.reduce((total, { value }) => total + value / 3, 0);
        sum += values.reduce((total, { value, uRepeat }) => total + ((value - middle) / uRepeat) ** 2, 0);
        degrees += 2;
      }
    }
    expect(chiSquaredUpperTail(sum, degrees)).toBeGreaterThan(0.01);
    expect(1 - chiSquaredUpperTail(sum, degrees)).toBeGreaterThan(0.01);
  });

  it('says what they scatter, not what was assumed, where something moved between them', () => {
    const random = createRandom(9);
    const moves = Array.from({ length: 6 }, () => 0.9 * random.normal());
    const sets = moves.map((up, k) => again(95, k, up));
    const { field, budget, outlier } = combine(sets);
    const { lines, u, uRepeat } = budget.terms.verticalOffset;
    const names = lines.map(({ component }) => component);
    expect(outlier).toBeUndefined();
    for (const gone of ['marks', 'film-turn', 'film-shift-scaled']) expect(names).not.toContain(gone);
    const repeats = lines.find(({ component }) => component === 'repeats')!;
    expect(repeats).toMatchObject({ type: 'A', degreesOfFreedom: 5 });
    expect(repeats.u).toBe(uRepeat);
    expect(Math.hypot(...lines.map((line) => line.u))).toBeCloseTo(u, 12);
    const alone = sets[0]!.field.terms.verticalOffset.uRepeat;
    expect(uRepeat).toBeGreaterThan(5 * alone);
    expect(Math.abs(field.terms.verticalOffset.value - sets[0]!.truth.verticalOffset)).toBeLessThan(3 * uRepeat);
    // The worst place is no better known than the terms at it, nor than one photograph knows it.
    expect(field.worstVertical.uRepeat).toBeGreaterThan(0.8 * uRepeat);
  });

  it('takes a film that turns for one that turns, though two of three show it alike', () => {
    // Sideways, and only sideways, by what the film's turn makes of two pictures one above the other.
    const sets = [0, 0, 1].map((turn, k) => {
      const one = again(96, k);
      const { value, ...rest } = one.field.terms.horizontalOffset;
      const horizontalOffset = { ...rest, value: value + turn * one.budget.terms.horizontalOffset.uRepeat };
      return { ...one, field: { ...one.field, terms: { ...one.field.terms, horizontalOffset } } };
    });
    const { outlier, field, budget } = combine(sets);
    expect(outlier).toBeUndefined();
    const alone = sets[0]!.budget.terms.horizontalOffset.uRepeat;
    expect(budget.terms.horizontalOffset.uRepeat).toBeCloseTo(alone / Math.sqrt(3), 9);
    expect(field.terms.verticalOffset.uRepeat).toBeLessThan(0.1 * alone);
  });

  it('names the one that lies apart, and leaves it out', () => {
    const sets = [0, 1, 2, 3, 4].map((k) => again(97, k, k === 3 ? 2 : 0));
    const { outlier, representative, field } = combine(sets);
    expect(outlier).toMatchObject({ role: 'bare', number: 4, file: '3.jpg' });
    expect(representative).not.toBe(3);
    const { value, uRepeat } = field.terms.verticalOffset;
    expect(Math.abs(value - sets[0]!.truth.verticalOffset)).toBeLessThan(4 * uRepeat);
  });

  it('of one is that one', () => {
    const { representative, isScatterKnown } = repeatBare([again(71, 0)], named(1), ASPECT);
    expect([representative, isScatterKnown]).toEqual([0, false]);
  });
});
