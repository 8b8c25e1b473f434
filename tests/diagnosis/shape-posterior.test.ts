import { describe, expect, it } from 'vitest';
import { type ShapeObservations, weighShape } from '../../src/diagnosis/shape-posterior.ts';

const seen = (some: Partial<Record<keyof ShapeObservations, number>>): ShapeObservations => {
  const of = (term: keyof ShapeObservations) => ({ value: some[term] ?? 0, u: 0.002 });
  return {
    size: of('size'),
    stretch: of('stretch'),
    shear: of('shear'),
    keystoneH: of('keystoneH'),
    keystoneV: of('keystoneV'),
  };
};
const best = (some: Parameters<typeof seen>[0]) =>
  weighShape(seen(some))
    .toSorted((a, b) => b.weight - a.weight)[0]!
    .suspects.map(({ row }) => row.code);

describe('weighing the shape of the pictures', () => {
  it('gives weights that sum to 1, for a fault of any size', () => {
    const sum = weighShape(seen({ size: 60, keystoneH: 40 })).reduce((total, { weight }) => total + weight, 0);
    expect(sum).toBeCloseTo(1, 10);
  });

  it('well-shaped pictures: nothing', () => expect(best({ size: 0.1, stretch: 0.02 })).toEqual([]));
  it('size alone: the paths', () => expect(best({ size: 0.9 })).toEqual(['path-lengths-differ']));
  it('stretch and shear: a mirror under strain', () =>
    expect(best({ stretch: 0.6, shear: 0.5 })).toEqual(['mirror-strained']));
  it('size and keystone: two faults', () =>
    expect(best({ size: 1, keystoneH: 1.2 })).toEqual(['path-lengths-differ', 'attachment-off-axis']));
});
