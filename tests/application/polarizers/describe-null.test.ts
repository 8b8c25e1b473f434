import { describe, expect, it } from 'vitest';
import { describeNull } from '../../../src/application/polarizers/describe-null.ts';
import type { NullFromPhotographs } from '../../../src/application/polarizers/find-null.ts';
import { predictLeaks } from '../../../src/light/explain-leaks.ts';
import { findNullBySteps } from '../../../src/light/null-by-steps.ts';
import { findNull } from '../../../src/light/null-search.ts';
import { nullSearch } from '../../../src/record/null-search.ts';

const REQUEST = { lens: 'left', turned: 'polarizer', reference: { path: '/r.jpg', name: 'r.jpg' } } as const;
const FLOOR = 0.004;

const leakAt = (off_deg: number) => {
  const value = predictLeaks({ picture_deg: { right: off_deg } }, FLOOR, 1).left;
  return { value, u: Math.hypot(0.01 * value, 0.0003) };
};

function byTurns(turns_deg: readonly number[], null_deg: number): NullFromPhotographs {
  const shots = turns_deg.map((turn_deg) => ({ turn_deg, leak: leakAt(turn_deg - null_deg) }));
  const found = findNull({ turned: 'polarizer', shots });
  if (found.outcome === 'refused') throw new Error(JSON.stringify(found));
  const leaks = shots.map((shot) => ({ ...shot, file: `${shot.turn_deg}.jpg` }));
  return { outcome: 'found', by: 'turns', null: found, leaks, notes: [] };
}

function describeFound(result: NullFromPhotographs) {
  const search = describeNull(REQUEST, result, '1.2.3');
  if (search.outcome === 'refused') throw new Error('refused');
  return search;
}

describe('describeNull', () => {
  it.each([
    ['between the turns is turned to', [-10, -5, 0, 5, 10], 3, 'turn'],
    ['where things stand is left', [-10, -5, 10, 5, 0], 0.3, 'at-null'],
    ['beyond the turns is gone towards', [0, 5, 10], 22, 'go-on'],
  ] as const)('a null %s', (_name, turns, null_deg, verdict) => {
    const search = describeFound(byTurns(turns, null_deg));
    expect(search.verdict).toBe(verdict);
    expect(search.null_deg!.value).toBeCloseTo(null_deg, 4);
    expect(search.further_deg!.value).toBeCloseTo(null_deg - turns[turns.length - 1], 4);
    expect(search.least_leak_pct.value).toBeCloseTo(100 * FLOOR, 4);
  });

  it('a null that may be here or there is uncertain', () => {
    const result = byTurns([-10, 0, 10], 0);
    if (result.outcome !== 'found' || result.by !== 'turns') throw new Error('not found');
    const vague = { ...result, null: { ...result.null, further_deg: { value: 1, u: 0.8 } } };
    expect(describeFound(vague).verdict).toBe('uncertain');
  });

  it('draws the curve that the ghosts follow, over all turns and the null', () => {
    const { curve, shots } = describeFound(byTurns([-10, -5, 0, 5, 10], 13));
    const turns = curve.points.map(([turn]) => turn);
    expect(turns[0]).toBeLessThan(-10);
    expect(turns[turns.length - 1]).toBeGreaterThan(13);
    for (const [turn, leak_pct] of curve.points) {
      expect(leak_pct).toBeCloseTo(100 * leakAt(turn - 13).value, 6);
    }
    expect(shots[0]).toMatchObject({ file: '-10.jpg', turn_deg: -10 });
  });

  it('by steps counts curve and null in steps from the first photograph', () => {
    const leaks = [0, 1, 2, 3, 4, 5].map((k) => ({ file: `${k}.jpg`, turn_deg: null, leak: leakAt(12 * k - 25) }));
    const found = findNullBySteps({ turned: 'polarizer', leaks: leaks.map(({ leak }) => leak) });
    if (found.outcome === 'refused') throw new Error(JSON.stringify(found));
    const search = describeFound({ outcome: 'found', by: 'steps', null: found, leaks, notes: [] });
    expect(search.curve.unit).toBe('steps');
    expect(search.curve.null_at).toBeCloseTo(25 / 12, 3);
    expect(search.further_steps!.value).toBeCloseTo(25 / 12 - 5, 3);
    for (const [step, leak_pct] of search.curve.points) {
      expect(leak_pct).toBeCloseTo(100 * leakAt(12 * step - 25).value, 2);
    }
  });

  it('notes shots that follow no curve, and carries refusals on', () => {
    const result = byTurns([-10, -5, 0, 5, 10], 3);
    if (result.outcome !== 'found' || result.by !== 'turns') throw new Error('not found');
    const scattered = { ...result, notes: ['tone-curve-bent'], null: { ...result.null, chance: 1e-5 } } as const;
    expect(describeFound(scattered).notes).toEqual(['tone-curve-bent', 'shots-disagree']);
    const refused: NullFromPhotographs = {
      outcome: 'refused',
      refusal: { outcome: 'refused', code: 'blurred', facts: { blur_px: 9 } },
      file: 'b.jpg',
      leaks: result.leaks.slice(0, 1),
      notes: [],
    };
    const search = describeNull(REQUEST, refused, '1.2.3');
    expect(search).toMatchObject({ refusal: { code: 'blurred', file: 'b.jpg' }, shots: [{ file: '-10.jpg' }] });
    const refusal = { ...(search as { refusal: object }).refusal, message: 'M.', remedy: 'R.' };
    expect(nullSearch.parse({ ...search, refusal })).toEqual({ ...search, refusal });
  });
});
