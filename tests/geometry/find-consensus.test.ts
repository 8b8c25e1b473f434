import { describe, expect, it } from 'vitest';
import { findConsensus, type PointPair } from '../../src/geometry/find-consensus.ts';
import { transfer } from '../../src/kernel/homography.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { distort } from '../../src/kernel/view.ts';
import { layoutChart } from '../../src/target/chart.ts';
import { LENS, OBLIQUE } from './misaligned-views.ts';

const pairs: PointPair[] = layoutChart().marks.map(({ x, y }) => ({ at: { x, y }, seen: transfer(OBLIQUE, { x, y }) }));

/** Every third pair gets the place of another. */
function exchanged(share: number, seed: number): { mixed: PointPair[]; wrong: Set<number> } {
  const random = createRandom(seed);
  const wrong = new Set<number>();
  while (wrong.size < share * pairs.length) wrong.add(Math.floor(random.uniform() * pairs.length));
  const mixed = pairs.map((pair, i) =>
    wrong.has(i) ? { at: pair.at, seen: { x: random.between(0, 3000), y: random.between(0, 2000) } } : pair,
  );
  return { mixed, wrong };
}

describe('findConsensus', () => {
  it('agrees wholly on exact pairs and gives their homography', () => {
    const { agreeing, photoFromChart } = findConsensus(pairs)!;
    expect(agreeing).toEqual(pairs.map((_, i) => i));
    for (const { at, seen } of pairs) {
      const p = transfer(photoFromChart, at);
      expect(Math.hypot(p.x - seen.x, p.y - seen.y)).toBeLessThan(1e-8);
    }
  });

  it.each([0.15, 0.4, 0.6])('leaves out a share of %d of wrong identities and keeps the others', (share) => {
    for (const seed of [1, 2, 3]) {
      const { mixed, wrong } = exchanged(share, seed);
      const { agreeing } = findConsensus(mixed)!;
      const right = mixed.flatMap((_, i) => (wrong.has(i) ? [] : [i]));
      expect(agreeing.filter((i) => !wrong.has(i)).length).toBeGreaterThanOrEqual(0.9 * right.length);
      // A place drawn by chance may lie within the tolerance of the right one.
      expect(agreeing.filter((i) => wrong.has(i)).length).toBeLessThanOrEqual(1);
    }
  });

  it('bears a lens that bends the picture', () => {
    const bent = pairs.map(({ at, seen }) => ({ at, seen: distort(LENS, seen) }));
    expect(findConsensus(bent)!.agreeing.length).toBeGreaterThanOrEqual(0.9 * bent.length);
  });

  it('gives the same answer for the same input', () => {
    const { mixed } = exchanged(0.4, 7);
    expect(findConsensus(mixed)).toEqual(findConsensus(mixed));
  });

  it('gives nothing for fewer than four pairs and for collinear ones', () => {
    expect(findConsensus(pairs.slice(0, 3))).toBeUndefined();
    const line = Array.from({ length: 10 }, (_, i) => ({ at: { x: 0.1 * i, y: 0 }, seen: { x: 100 * i, y: 0 } }));
    expect(findConsensus(line)).toBeUndefined();
  });

  it('finds next to no agreement in a heap of nonsense', () => {
    const random = createRandom(3);
    const nonsense = pairs.map(({ at }) => ({ at, seen: { x: random.between(0, 3000), y: random.between(0, 2000) } }));
    expect(findConsensus(nonsense)?.agreeing.length ?? 0).toBeLessThan(0.1 * pairs.length);
  });
});
