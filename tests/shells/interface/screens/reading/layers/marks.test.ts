import { describe, expect, it } from 'vitest';
import type { MarkEvidence } from '../../../../../../src/record/reading.ts';
import {
  formatMark,
  joinMarkWords,
  keyOfMark,
  markNear,
  moveAmongMarks,
  orderMarks,
} from '../../../../../../src/shells/interface/screens/reading/layers/marks.ts';
import { sampleReading } from '../../../../../report/sample-reading.ts';

const mark = (id: string, x: number, y: number, own: Partial<MarkEvidence> = {}): MarkEvidence => ({
  id,
  eye: 'left',
  shot: 'left-lens',
  at: [x, y],
  photo_px: [1000 + 100 * x, 500 - 100 * y],
  u_px: [0.01, 0.02],
  residual_px: [0.01, 0],
  used: true,
  ...own,
});

describe('the reading order', () => {
  it('goes from the top, each row from the left, and holds every mark once', () => {
    const ordered = orderMarks(sampleReading.evidence.marks);
    expect(new Set(ordered.map(keyOfMark)).size).toBe(sampleReading.evidence.marks.length);
    ordered.slice(1).forEach(({ at }, i) => {
      const before = ordered[i]!.at;
      expect(at[1] < before[1] || (at[1] === before[1] && at[0] > before[0])).toBe(true);
    });
  });

  it('puts both sights of one mark side by side, under different names', () => {
    const twice = [mark('L-1-01', 0, 0, { shot: 'right-lens' }), mark('L-1-01', 0, 0)];
    expect(orderMarks(twice).map(keyOfMark)).toEqual(['left-lens/L-1-01', 'right-lens/L-1-01']);
  });
});

describe('moves', () => {
  const ordered = [mark('a', -1, 1), mark('b', 0.2, 1), mark('c', -0.9, 0), mark('d', 0, 0), mark('e', 1, 0)];

  it.each([
    ['next', 1, 2],
    ['next', 4, 4],
    ['previous', 0, 0],
    ['previous', 2, 1],
    ['first', 3, 0],
    ['last', 1, 4],
    ['down', 1, 3],
    ['down', 0, 2],
    ['down', 3, 3],
    ['up', 4, 1],
    ['up', 2, 0],
    ['up', 0, 0],
  ] as const)('%s from %i to %i', (move, from, to) => expect(moveAmongMarks(ordered, from, move)).toBe(to));

  it('next reaches every mark of a reading', () => {
    const all = orderMarks(sampleReading.evidence.marks);
    const seen = new Set([0]);
    let at = 0;
    for (let i = 0; i < all.length; i++) {
      at = moveAmongMarks(all, at, 'next');
      seen.add(at);
    }
    expect(seen.size).toBe(all.length);
  });
});

it('means the nearest mark, and none that is too far', () => {
  const marks = [mark('a', 0, 0), mark('b', 0.1, 0)];
  expect(markNear(marks, { x: 1007, y: 500 }, 14)?.id).toBe('b');
  expect(markNear(marks, { x: 1004, y: 500 }, 14)?.id).toBe('a');
  expect(markNear(marks, { x: 1004, y: 520 }, 14)).toBeUndefined();
});

it('says which mark it is, where, how far off and why it stands out', () => {
  const words = formatMark(
    {
      id: 'R-0-11',
      eye: 'right',
      shot: 'left-lens',
      at: [1.1, 0.45],
      photo_px: [1948.34, 669.6],
      u_px: [0.004, 0.004],
      residual_px: [0.012, 0.016],
      used: true,
    },
    2.35,
  );
  expect(joinMarkWords(words)).toBe(
    'R-0-11, right-eye picture, through the left lens, upper right corner, at 1948.3, 669.6 px, ' +
      '0.020 px from its fitted place, uncertainty 0.0040 px, Used, but stands out: 5.0 times its uncertainty off',
  );
});
