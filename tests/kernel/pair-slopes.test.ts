import { describe, expect, it } from 'vitest';
import { countSlopes, type PlanePoint, selectSlopes } from '../../src/kernel/pair-slopes.ts';
import { createRandom } from '../../src/kernel/random.ts';

/** All pairs, one by one. */
function listAll(points: readonly PlanePoint[]): Float64Array {
  const slopes = points.flatMap((a, index) =>
    points.slice(index + 1).flatMap((b) => (a.x === b.x ? [] : [(b.y - a.y) / (b.x - a.x)])),
  );
  return Float64Array.from(slopes).sort();
}

const random = createRandom(5);
const many = <T>(n: number, make: (index: number) => T) => Array.from({ length: n }, (_, index) => make(index));

describe('slopes of all pairs', () => {
  it.each<[string, PlanePoint[]]>([
    ['a few', many(9, () => ({ x: random.normal(), y: random.normal() }))],
    ['noise', many(700, () => ({ x: random.uniform(), y: random.normal() }))],
    ['noise far from the origin', many(600, (i) => ({ x: 20_000 + i + random.uniform(), y: 1e-4 * random.normal() }))],
    ['an exact line', many(600, (i) => ({ x: i, y: 0.1 * i }))],
    ['one value', many(600, (i) => ({ x: i, y: 0.3 }))],
    [
      'few values at few times',
      many(800, () => ({ x: Math.floor(9 * random.uniform()), y: Math.floor(4 * random.uniform()) })),
    ],
    ['steps', many(700, (i) => ({ x: i, y: i < 300 ? 0 : 50 }))],
  ])('of %s have the ranks that a list of them has', (_name, points) => {
    const all = listAll(points);
    expect(countSlopes(points)).toBe(all.length);
    const ranks = [0, 1, 0.02, 0.3, 0.5, 0.77, 1].map((part) =>
      Math.max(0, Math.min(all.length - 1, part === 1 ? all.length - 1 : Math.floor(part * all.length))),
    );
    const found = selectSlopes(points, ranks);
    const scale = Math.max(...points.map(({ y }) => Math.abs(y)));
    for (const [index, rank] of ranks.entries())
      expect(Math.abs(found[index]! - all[rank]!)).toBeLessThanOrEqual(1e-12 * (Math.abs(all[rank]!) + scale));
  });

  it('give equal bits for equal points, in whatever order', () => {
    const points = many(500, () => ({ x: random.uniform(), y: random.normal() }));
    expect(selectSlopes(points.toReversed(), [7, 60_000])).toEqual(selectSlopes(points, [7, 60_000]));
  });

  it('refuse a rank that is none', () => {
    expect(() => selectSlopes([{ x: 0, y: 0 }], [0])).toThrow(RangeError);
  });
});
