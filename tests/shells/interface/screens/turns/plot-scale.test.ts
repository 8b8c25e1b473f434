import { describe, expect, it } from 'vitest';
import { chooseScale, niceStep } from '../../../../../src/shells/interface/screens/turns/plot-scale.ts';

const amounts = (points: number[], values = points) => chooseScale({ values, points, areAmounts: true });

describe('the kind of scale', () => {
  it('is linear while everything can be seen so', () => {
    expect(amounts([0.6, 0.3, 0.05]).kind).toBe('linear');
  });

  it('is logarithmic where the errors shrink a hundredfold', () => {
    expect(amounts([1, 0.1, 0.01]).kind).toBe('logarithmic');
  });

  it('is linear for terms with a sign, and for one round', () => {
    expect(chooseScale({ values: [1, -0.001], points: [1, -0.001], areAmounts: false }).kind).toBe('linear');
    expect(amounts([0.3]).kind).toBe('linear');
  });
});

describe.each([
  ['linear', [0.55, 0.046]],
  ['logarithmic', [1.05, 0.4, 0.0104]],
])('a %s scale', (kind, points) => {
  const scale = amounts(points);

  it('holds every value, in order, from foot to top', () => {
    expect(scale.kind).toBe(kind);
    const places = points.map(scale.place);
    expect(places.toSorted((a, b) => b - a)).toEqual(places);
    for (const place of places) expect(place).toBeGreaterThanOrEqual(0);
    expect(scale.place(scale.high)).toBeCloseTo(1, 9);
    expect(scale.place(scale.low)).toBeCloseTo(0, 9);
    expect(Math.max(...points)).toBeLessThanOrEqual(scale.high * (1 + 1e-9));
  });

  it('has its marks inside', () => {
    expect(scale.ticks.length).toBeGreaterThan(1);
    for (const tick of scale.ticks) {
      expect(tick).toBeGreaterThanOrEqual(scale.low - 1e-9);
      expect(tick).toBeLessThanOrEqual(scale.high + 1e-9);
    }
  });
});

it('lets a bar that reaches below nothing end at the border', () => {
  const scale = amounts([1, 0.01], [1, 0.01, -0.02]);
  expect(scale.kind).toBe('logarithmic');
  expect(scale.place(-0.02)).toBe(0);
  expect(scale.place(0)).toBe(0);
});

it('shows both signs and nothing', () => {
  const scale = chooseScale({ values: [-0.47, 0.35], points: [-0.47, 0.35], areAmounts: false });
  expect(scale.low).toBeLessThanOrEqual(-0.47);
  expect(scale.high).toBeGreaterThanOrEqual(0.35);
  expect(scale.ticks).toContain(0);
});

it('does not fail where everything is nothing', () => {
  const { low, high } = amounts([0, 0]);
  expect(high).toBeGreaterThan(low);
});

it.each([
  [0.13, 0.2],
  [0.2, 0.2],
  [0.6, 1],
  [3, 5],
  [7, 10],
])('a step of at least %f is %f', (least, step) => {
  expect(niceStep(least)).toBeCloseTo(step, 12);
});
