import { describe, expect, it } from 'vitest';
import type { Suspect } from '../../src/diagnosis/forecast-light.ts';
import {
  type Hypothesis,
  type LightObservations,
  weighLight,
  type ShapeObservations,
  weighShape,
} from '../../src/diagnosis/posterior.ts';

const seen = (left: number, right: number, more: Partial<LightObservations> = {}): LightObservations => ({
  way: 'seen',
  ratios: { left: { value: left, u: 1e-4 }, right: { value: 1 / right, u: 1e-4 / right ** 2 } },
  ...more,
});
const name = ({ suspects }: Hypothesis<Suspect>) => suspects.map(({ row, eye }) => row.code + (eye ?? '')).join('+');
const best = (hypotheses: readonly Hypothesis<Suspect>[]) =>
  hypotheses.reduce((a, b) => (b.weight > a.weight ? b : a), hypotheses[0]!);
const weightOf = (hypotheses: readonly Hypothesis<Suspect>[], wanted: string) =>
  hypotheses.find((h) => name(h) === wanted)!.weight;

describe('weighing what was seen of the light', () => {
  it('gives weights that sum to 1', () => {
    const sum = weighLight(seen(0.02, 0.01)).reduce((total, { weight }) => total + weight, 0);
    expect(sum).toBeCloseTo(1, 10);
  });

  it('a good house: nothing', () => expect(name(best(weighLight(seen(0.004, 0.005))))).toBe(''));

  it('turning the photographs round turns the eyes round', () => {
    const one = weighLight(seen(0.04, 0.003));
    const other = weighLight(seen(0.003, 0.04));
    expect(weightOf(one, 'projector-polarizer-turnedright')).toBeCloseTo(
      weightOf(other, 'projector-polarizer-turnedleft'),
      6,
    );
  });

  it('exchanged eyes with a ghost through one lens need two faults', () => {
    expect(best(weighLight(seen(1 / 0.004, 1 / 0.05))).suspects).toHaveLength(2);
  });

  it('what was not observed changes nothing: an offset without the offsets of half a frame', () => {
    const without = weighLight(seen(250, 1 / 200));
    const withOffset = weighLight(seen(250, 1 / 200, { verticalOffset: { value: 0.05, u: 1e-4 } }));
    for (const [i, { weight }] of withOffset.entries()) expect(weight).toBeCloseTo(without[i]!.weight, 12);
  });

  it('a picture missing is the one that was not seen', () => {
    const hypotheses = weighLight({ way: 'one-picture', missing: 'right' });
    expect(weightOf(hypotheses, 'picture-missingleft')).toBe(0);
    expect(weightOf(hypotheses, 'picture-missingright')).toBeGreaterThan(0.1);
  });
});

const seenShape = (some: Partial<Record<keyof ShapeObservations, number>>): ShapeObservations => {
  const of = (term: keyof ShapeObservations) => ({ value: some[term] ?? 0, u: 0.002 });
  return {
    size: of('size'),
    stretch: of('stretch'),
    shear: of('shear'),
    keystoneH: of('keystoneH'),
    keystoneV: of('keystoneV'),
  };
};
const bestShape = (some: Parameters<typeof seenShape>[0]) =>
  weighShape(seenShape(some))
    .toSorted((a, b) => b.weight - a.weight)[0]!
    .suspects.map(({ row }) => row.code);

describe('weighing the shape of the pictures', () => {
  it('gives weights that sum to 1, for a fault of any size', () => {
    const sum = weighShape(seenShape({ size: 60, keystoneH: 40 })).reduce((total, { weight }) => total + weight, 0);
    expect(sum).toBeCloseTo(1, 10);
  });

  it('well-shaped pictures: nothing', () => expect(bestShape({ size: 0.1, stretch: 0.02 })).toEqual([]));
  it('size alone: the paths', () => expect(bestShape({ size: 0.9 })).toEqual(['path-lengths-differ']));
  it('stretch and shear: a mirror under strain', () =>
    expect(bestShape({ stretch: 0.6, shear: 0.5 })).toEqual(['mirror-strained']));
  it('size and keystone: two faults', () =>
    expect(bestShape({ size: 1, keystoneH: 1.2 })).toEqual(['path-lengths-differ', 'attachment-off-axis']));
});
