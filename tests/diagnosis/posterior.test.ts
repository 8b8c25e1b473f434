import { describe, expect, it } from 'vitest';
import type { Fault } from '../../src/diagnosis/forecast-light.ts';
import {
  type Hypothesis,
  type LightObservations,
  lightPosterior,
  type ShapeObservations,
  shapePosterior,
} from '../../src/diagnosis/posterior.ts';

const seen = (left: number, right: number, more: Partial<LightObservations> = {}): LightObservations => ({
  way: 'seen',
  ratios: { left: { value: left, u: 1e-4 }, right: { value: 1 / right, u: 1e-4 / right ** 2 } },
  ...more,
});
const name = ({ faults }: Hypothesis<Fault>) => faults.map(({ row, eye }) => row.code + (eye ?? '')).join('+');
const best = (hypotheses: readonly Hypothesis<Fault>[]) =>
  hypotheses.reduce((a, b) => (b.weight > a.weight ? b : a), hypotheses[0]!);
const weightOf = (hypotheses: readonly Hypothesis<Fault>[], wanted: string) =>
  hypotheses.find((h) => name(h) === wanted)!.weight;

describe('weighing what was seen of the light', () => {
  it('gives weights that sum to 1', () => {
    const sum = lightPosterior(seen(0.02, 0.01)).reduce((total, { weight }) => total + weight, 0);
    expect(sum).toBeCloseTo(1, 10);
  });

  it('a good house: nothing', () => expect(name(best(lightPosterior(seen(0.004, 0.005))))).toBe(''));

  it('turning the photographs round turns the eyes round', () => {
    const one = lightPosterior(seen(0.04, 0.003));
    const other = lightPosterior(seen(0.003, 0.04));
    expect(weightOf(one, 'projector-polarizer-turnedright')).toBeCloseTo(
      weightOf(other, 'projector-polarizer-turnedleft'),
      6,
    );
  });

  it('exchanged eyes with a ghost through one lens need two faults', () => {
    expect(best(lightPosterior(seen(1 / 0.004, 1 / 0.05))).faults).toHaveLength(2);
  });

  it('what was not observed changes nothing: an offset without the offsets of half a frame', () => {
    const without = lightPosterior(seen(250, 1 / 200));
    const withOffset = lightPosterior(seen(250, 1 / 200, { verticalOffset: { value: 0.05, u: 1e-4 } }));
    for (const [i, { weight }] of withOffset.entries()) expect(weight).toBeCloseTo(without[i]!.weight, 12);
  });

  it('a picture missing is the one that was not seen', () => {
    const hypotheses = lightPosterior({ way: 'one-picture', missing: 'right' });
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
  shapePosterior(seenShape(some))
    .toSorted((a, b) => b.weight - a.weight)[0]!
    .faults.map(({ row }) => row.code);

describe('weighing the shape of the pictures', () => {
  it('gives weights that sum to 1, for a fault of any size', () => {
    const sum = shapePosterior(seenShape({ size: 60, keystoneH: 40 })).reduce((total, { weight }) => total + weight, 0);
    expect(sum).toBeCloseTo(1, 10);
  });

  it('well-shaped pictures: nothing', () => expect(bestShape({ size: 0.1, stretch: 0.02 })).toEqual([]));
  it('size alone: the paths', () => expect(bestShape({ size: 0.9 })).toEqual(['path-lengths-differ']));
  it('stretch and shear: a mirror under strain', () =>
    expect(bestShape({ stretch: 0.6, shear: 0.5 })).toEqual(['mirror-strained']));
  it('size and keystone: two faults', () =>
    expect(bestShape({ size: 1, keystoneH: 1.2 })).toEqual(['path-lengths-differ', 'attachment-off-axis']));
});
