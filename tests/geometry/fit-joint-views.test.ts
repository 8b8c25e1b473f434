import { describe, expect, it } from 'vitest';
import { fitJointViews, type JointFit } from '../../src/geometry/fit-joint-views.ts';
import type { SeenMark } from '../../src/geometry/fit-views.ts';
import { measureField } from '../../src/geometry/measure-field.ts';
import { TERMS } from '../../src/geometry/misalignment.ts';
import { elementAt, multiply } from '../../src/kernel/linear-algebra.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { ASPECT, type Conditions, seeWarped, type WarpedViews } from './warped-views.ts';

function fit(views: Pick<WarpedViews, 'marks' | 'size'>): JointFit {
  const result = fitJointViews(views.marks, views.size, ASPECT);
  if (result.outcome === 'refused') throw new Error(`${result.code} ${JSON.stringify(result.facts)}`);
  return result;
}

const used = ({ marks }: JointFit) => marks.filter(({ status }) => status === 'used').length;

/** Errors over u of the eight terms and the worst place, of sets with the seeds from `first`. */
function scores(conditions: Conditions, sets: number, first = 500): number[] {
  return Array.from({ length: sets }, (_, k) => {
    const views = seeWarped(conditions, first + k);
    const field = measureField(fit(views));
    return [
      ...TERMS.map((term) => (field.terms[term].value - views.truth[term]) / field.terms[term].u),
      (field.worstVertical.value - views.worstVertical) / field.worstVertical.u,
    ];
  }).flat();
}

describe('fitJointViews', () => {
  it.each<[string, Conditions]>([
    ['a flat screen', {}],
    ['a screen of radius 1 width, 20 degrees aside', { radius_widths: 1, aside_deg: 20 }],
    ['a screen of radius 4 widths, straight on', { radius_widths: 4 }],
    ['pincushion of 0.02 % about axes of their own', { pincushion: 0.0002, axis_ih: 0.5 }],
    ['barrel of 1 % about axes of their own', { pincushion: -0.01, axis_ih: 0.5 }],
    ['a moustache lens', { moustache: 0.015 }],
    ['a wavy filter', { wavy_px: 0.2 }],
  ])('holds on %s', (_, conditions) => {
    const list = scores(conditions, 6);
    // 54 numbers, correlated within a set: not fewer than 86 % within 2 u, none beyond 5.
    expect(list.filter((z) => Math.abs(z) <= 2).length / list.length).toBeGreaterThan(0.86);
    expect(Math.max(...list.map(Math.abs))).toBeLessThan(5);
  });

  it('pays next to nothing for a curved screen', () => {
    const u = (conditions: Conditions) => measureField(fit(seeWarped(conditions, 12))).terms.verticalOffset.u;
    const flat = u({});
    for (const radius_widths of [1, 2, 4]) {
      for (const aside_deg of [0, 20]) expect(u({ radius_widths, aside_deg }) / flat).toBeLessThan(2);
    }
  });

  it('keeps every mark where a filter is wavy, and says that neighbours err alike', () => {
    const wavy = fit(seeWarped({ wavy_px: 0.2 }, 3));
    expect(used(wavy)).toBe(wavy.marks.length);
    expect(wavy.sharedErrors!.u_px).toBeGreaterThan(0.1);
    expect(fit(seeWarped({}, 3)).sharedErrors).toBeUndefined();
  });

  it('tells a remainder from none', () => {
    expect(fit(seeWarped({ pincushion: 0.005, axis_ih: 0.5 }, 4)).remainderProbability).toBeGreaterThan(0.99);
    expect(fit(seeWarped({}, 4)).remainderProbability).toBeLessThan(0.2);
  });

  it('does the same for the same marks in another order', () => {
    const views = seeWarped({}, 6);
    const turned = { ...views, marks: [...views.marks].reverse() };
    const [a, b] = [fit(views), fit(turned)];
    for (const [i, p] of a.parameters.entries()) expect(Math.abs(p - b.parameters[i])).toBeLessThan(1e-7);
    expect(b.marks[0].at).toEqual(turned.marks[0].at);
  });

  it('carries the places of the marks to the terms as its response says', () => {
    const views = seeWarped({}, 7);
    const before = fit(views);
    const field = measureField(before);
    const response = multiply(field.jacobian, before.response);
    const marks = views.marks.map((mark, i) =>
      i === 20 ? { ...mark, seen: { x: mark.seen.x + 0.01, y: mark.seen.y - 0.02 } } : mark,
    );
    const after = measureField(fit({ ...views, marks }));
    TERMS.forEach((term, r) => {
      const predicted = 0.01 * elementAt(response, r, 40) - 0.02 * elementAt(response, r, 41);
      const changed = after.terms[term].value - field.terms[term].value;
      expect(Math.abs(changed - predicted)).toBeLessThan(0.1 * field.terms[term].u);
    });
  });
});

describe('fitJointViews on marks that do not belong', () => {
  const views = seeWarped({ radius_widths: 2, aside_deg: 10 }, 21);
  const spoil = (indices: readonly number[], by: (mark: SeenMark, k: number) => SeenMark): SeenMark[] =>
    views.marks.map((mark, i) => (indices.includes(i) ? by(mark, i) : mark));
  const shifted = (px: number) => (mark: SeenMark, k: number) => ({
    ...mark,
    seen: { x: mark.seen.x + px * Math.cos(k), y: mark.seen.y + px * Math.sin(k) },
  });
  const clean = measureField(fit(views));

  it.each([0.15, 3, 40])('rejects three that lie %f px off, and these alone', (px) => {
    const result = fit({ ...views, marks: spoil([4, 37, 71], shifted(px)) });
    expect(result.marks.flatMap(({ status }, i) => (status === 'rejected' ? [i] : []))).toEqual([4, 37, 71]);
    const { terms } = measureField(result);
    for (const term of TERMS) {
      expect(Math.abs(terms[term].value - clean.terms[term].value)).toBeLessThan(2 * clean.terms[term].u);
    }
  });

  it('rejects identities that were exchanged', () => {
    const marks = spoil([10, 11], (mark, i) => ({ ...mark, at: views.marks[i === 10 ? 12 : 13].at }));
    const rejected = fit({ ...views, marks }).marks.flatMap(({ status }, i) => (status === 'rejected' ? [i] : []));
    expect(rejected).toEqual(expect.arrayContaining([10, 11]));
  });

  it('refuses where more than a tenth of an eye does not belong', () => {
    const left = views.marks.flatMap(({ eye }, i) => (eye === 'left' ? [i] : [])).filter((_, k) => k % 6 === 0);
    const random = createRandom(2);
    const marks = spoil(left, (mark) => ({
      ...mark,
      seen: { x: mark.seen.x + random.between(-9, 9), y: mark.seen.y + random.between(-9, 9) },
    }));
    const result = fitJointViews(marks, views.size, ASPECT);
    expect(result).toMatchObject({ outcome: 'refused', code: 'inconsistent-marks', facts: { eye: 'left' } });
  });

  it('refuses few marks, or one eye alone', () => {
    const few = views.marks.filter(({ eye }, i) => eye === 'left' || i < 4);
    expect(fitJointViews(few, views.size, ASPECT)).toMatchObject({ code: 'too-few-marks', facts: { eye: 'right' } });
    expect(fitJointViews([], views.size, ASPECT)).toMatchObject({ code: 'too-few-marks' });
  });

  it('measures with half of the marks seen, less surely', () => {
    const half = measureField(fit({ ...views, marks: views.marks.filter((_, i) => i % 2 === 0) }));
    for (const term of TERMS) {
      expect(Math.abs(half.terms[term].value - views.truth[term])).toBeLessThan(4 * half.terms[term].u);
      expect(half.terms[term].u).toBeGreaterThan(clean.terms[term].u);
    }
  });
});
