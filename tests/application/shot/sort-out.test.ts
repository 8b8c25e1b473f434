import { describe, expect, it } from 'vitest';
import type { ExaminedShot } from '../../../src/application/shot/examine-shot.ts';
import { type LookedAt, sortOut } from '../../../src/application/shot/sort-out.ts';
import { refuse } from '../../../src/kernel/refusal.ts';
import type { PhotographRole } from '../../../src/record/roles.ts';

const shot = (right: number) =>
  ({
    outcome: 'examined',
    fit: { views: { left: {}, right: right > 0 ? {} : undefined } },
    marks: { left: [{ contrast: 1 }], right: [{ contrast: right }] },
  }) as unknown as ExaminedShot & { outcome: 'examined' };
const given = (role: PhotographRole, file: string, look: unknown = shot(1), takenAt?: string) =>
  ({ role, photo: { file, camera: takenAt === undefined ? {} : { takenAt } }, look }) as unknown as LookedAt;
const blurred = refuse('blurred', {});
const filesOf = (sorted: ReturnType<typeof sortOut>) =>
  sorted.outcome === 'sorted' ? sorted.photographs.map(({ photo }) => photo.file) : sorted.refusal.code;

describe('a set of photographs', () => {
  it('of twelve goes without the one that is blurred, and names it', () => {
    const twelve = Array.from({ length: 12 }, (_, i) => given('bare', `${i + 1}.jpg`, i === 4 ? blurred : shot(1)));
    const sorted = sortOut(twelve, false);
    expect(filesOf(sorted)).toHaveLength(11);
    expect(sorted).toMatchObject({ leftOut: [{ role: 'bare', number: 5, file: '5.jpg', reason: 'blurred' }] });
  });

  it('is refused where none of a kind is left, and names one of several', () => {
    expect(sortOut([given('left-lens', 'l.jpg', blurred), given('right-lens', 'r.jpg')], false)).toMatchObject({
      refusal: { code: 'blurred', facts: {} },
      role: 'left-lens',
    });
    expect(sortOut([given('bare', 'a.jpg', blurred), given('bare', 'b.jpg', blurred)], false)).toMatchObject({
      refusal: { code: 'blurred', facts: { among: 'a.jpg' } },
    });
  });

  it('without glasses shows both pictures, in each photograph', () => {
    expect(sortOut([given('bare', 'lens.jpg', shot(0.01))], false)).toMatchObject({ refusal: { code: 'not-bare' } });
    expect(sortOut([given('bare', 'lens.jpg', shot(0.01)), given('bare', 'b.jpg')], false)).toMatchObject({
      outcome: 'sorted',
      leftOut: [{ file: 'lens.jpg', reason: 'not-bare' }],
    });
  });

  it('is in the order of the cameras’ clocks where each has its own time and nobody said otherwise', () => {
    const at = (file: string, second: string) => given('bare', file, shot(1), `2026:03:14 18:00:${second}`);
    expect(filesOf(sortOut([at('b', '20'), at('a', '10')], false))).toEqual(['a', 'b']);
    expect(filesOf(sortOut([at('b', '20'), at('a', '10')], true))).toEqual(['b', 'a']);
    expect(filesOf(sortOut([at('b', '10'), at('a', '10')], false))).toEqual(['b', 'a']);
    expect(filesOf(sortOut([at('b', '20'), given('bare', 'a')], false))).toEqual(['b', 'a']);
  });

  it('needs one without glasses, or one through each lens', () =>
    expect(filesOf(sortOut([given('left-lens', 'l.jpg')], false))).toBe('lens-missing'));
});
