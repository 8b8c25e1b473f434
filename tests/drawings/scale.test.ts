import { describe, expect, it } from 'vitest';
import {
  chooseExaggeration,
  chooseMeasure,
  chooseScale,
  EXAGGERATIONS,
  placeOnLine,
  roundUp,
  ticksBetween,
} from '../../src/drawings/scale.ts';

it.each([
  [1.99, 1],
  [2, 2],
  [4.99, 2],
  [7, 5],
  [0.0034, 0.002],
  [0.1, 0.1],
])('a measure that has room for %f is %f', (room, amount) => {
  expect(chooseMeasure(1, room).amount).toBeCloseTo(amount, 12);
});

it.each([
  [1, 1],
  [1.01, 2],
  [2.1, 5],
  [5.5, 10],
  [0.003, 0.005],
  [0.05, 0.05],
])('rounds %f up to %f', (value, rounded) => expect(roundUp(value)).toBeCloseTo(rounded, 12));

it('takes the longest round measure that has room', () => {
  const measure = chooseMeasure(130, 72);
  expect(measure.amount).toBeCloseTo(0.5, 12);
  expect(measure.length_px).toBeCloseTo(65, 9);
});

it('exaggerates as far as there is room, never less than to scale', () => {
  expect(EXAGGERATIONS[chooseExaggeration(0.55, 14)]).toBe(20);
  expect(EXAGGERATIONS[chooseExaggeration(0.28, 14)]).toBe(50);
  expect(EXAGGERATIONS[chooseExaggeration(99, 14)]).toBe(1);
  expect(EXAGGERATIONS[chooseExaggeration(0, 14)]).toBe(10_000);
});

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

it('has round ticks between two values', () => {
  expect(ticksBetween(-0.03, 1.04, 4)).toEqual([0, 0.2, 0.4, 0.6, 0.8, 1]);
  expect(ticksBetween(0, 6, 6)).toEqual([0, 1, 2, 3, 4, 5, 6]);
});

it('draws limits at a quarter and three quarters of the line, and stops at its ends', () => {
  expect(placeOnLine(0, 0.4)).toEqual({ at: 50, isBeyond: false });
  expect(placeOnLine(0.4, 0.4).at).toBeCloseTo(75, 9);
  expect(placeOnLine(-0.4, 0.4).at).toBeCloseTo(25, 9);
  expect(placeOnLine(2, 0.4)).toEqual({ at: 100, isBeyond: true });
  expect(placeOnLine(-2, 0.4)).toEqual({ at: 0, isBeyond: true });
});
