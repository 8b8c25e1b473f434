import { expect, it } from 'vitest';
import {
  chooseExaggeration,
  chooseMeasure,
  EXAGGERATIONS,
  roundDown,
  roundUp,
} from '../../../../../../src/shells/interface/screens/reading/layers/round-lengths.ts';

it.each([
  [1, 1],
  [1.99, 1],
  [2, 2],
  [4.99, 2],
  [7, 5],
  [0.0034, 0.002],
  [0.1, 0.1],
  [1000, 1000],
  [0, 0],
  [-3, 0],
])('rounds %f down to %f', (value, rounded) => expect(roundDown(value)).toBeCloseTo(rounded, 12));

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
