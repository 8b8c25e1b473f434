import { describe, expect, it } from 'vitest';
import {
  averageModels,
  correlatedErrorsOf,
  GENEROUS,
  type LinearisedMarks,
  minScale2For,
  PLAIN,
  precisionsOf,
  whitenFor,
} from '../../src/geometry/average-models.ts';
import {
  COMMON_FIRST,
  CURVATURE,
  JOINT_PARAMETERS,
  jointJacobian,
  predictJoint,
  REMAINDER_FIRST,
  startJoint,
  WARP_FIRST,
} from '../../src/geometry/joint-view-model.ts';
import { EYES, type Eye } from '../../src/kernel/eye.ts';
import { IDENTITY } from '../../src/kernel/homography.ts';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { layoutChart } from '../../src/target/chart.ts';

const SIGMA = 6e-6;
const frame = { photoFromCommon: [0.6, 0, 0, 0, -0.6, 0, 0, 0, 1], aspect: 2.35 } as const;
const chart = layoutChart(2.35).marks;
const marks = EYES.flatMap((eye) => chart.filter((mark) => mark.eye === eye));

/** Marks of two still pictures with independent errors, and more that `error` adds, in units of the noise. */
function marksWith(error: (eye: Eye, at: Point) => Point, seed: number): LinearisedMarks {
  const random = createRandom(seed);
  const p = startJoint(IDENTITY, IDENTITY);
  const design = jointJacobian(marks.length);
  const observed = new Float64Array(2 * marks.length);
  marks.forEach(({ eye, x, y }, i) => {
    predictJoint(p, frame, eye, { x, y }, design, 2 * i);
    const e = error(eye, { x, y });
    observed[2 * i] = SIGMA * (random.normal() + e.x);
    observed[2 * i + 1] = SIGMA * (random.normal() + e.y);
  });
  for (let r = 0; r < observed.length; r++) {
    for (let c = 0; c < design.cols; c++) observed[r] += design.data[r * design.cols + c] * p[c];
  }
  return {
    design,
    observed,
    places: EYES.map((eye) => marks.filter((mark) => mark.eye === eye)),
    noise: marks.map(() => [SIGMA * SIGMA, 0, SIGMA * SIGMA] as const),
    sigma: SIGMA,
    sigma_ih: SIGMA / 0.6,
    uncounted: 0,
  };
}

describe('averageModels', () => {
  it('finds nothing where there is nothing, most of the time', () => {
    const found = Array.from({ length: 6 }, (_, seed) => averageModels(marksWith(() => ({ x: 0, y: 0 }), seed))!.best);
    expect(found.filter(({ remainder, noise }) => remainder === 0 && noise === 0).length).toBeGreaterThan(4);
  });

  it('finds a remainder between the eyes', () => {
    const { best, probability } = averageModels(
      marksWith((eye, { x, y }) => (eye === 'left' ? { x: 9 * y * y, y: 9 * x * y * y } : { x: 0, y: 0 }), 3),
    )!;
    expect(best.remainder).toBeGreaterThan(0);
    expect(probability.remainder).toBeGreaterThan(0.95);
  });

  it('finds errors that neighbours share, with their size and reach', () => {
    const { best, probability } = averageModels(
      marksWith(
        (eye, { x, y }) => ({
          x: 8 * Math.sin(6 * x + 5 * y + (eye === 'left' ? 1 : 3)),
          y: 8 * Math.cos(5 * x - 7 * y),
        }),
        4,
      ),
    )!;
    const shared = correlatedErrorsOf(best)!;
    expect(probability.noise).toBeGreaterThan(0.99);
    expect(shared.amplitude).toBeGreaterThan(3);
    expect(shared.amplitude).toBeLessThan(20);
  });

  it('gives every model that it averages its share, and the same when told which', () => {
    const linear = marksWith(() => ({ x: 0, y: 0 }), 5);
    const first = averageModels(linear)!;
    const again = averageModels(linear, first.best, first.models)!;
    expect(again.best).toEqual(first.best);
    for (let k = 0; k < COMMON_FIRST; k++) expect(again.parameters[k]).toBeCloseTo(first.parameters[k], 7);
    // A remainder that the marks cannot see is never ruled out.
    expect(first.covariance.data[REMAINDER_FIRST * (JOINT_PARAMETERS + 1)]).toBeGreaterThan(0);
  });

  it('has no answer for marks that fix nothing', () => {
    const linear = marksWith(() => ({ x: 0, y: 0 }), 6);
    const empty = { ...linear, design: { ...linear.design, data: new Float64Array(linear.design.data.length) } };
    expect(averageModels(empty)).toBeUndefined();
  });
});

describe('precisionsOf', () => {
  it('leaves the homographies free, and out what a model does without', () => {
    const plain = precisionsOf(PLAIN, 1e-5, JOINT_PARAMETERS);
    expect([...plain.slice(0, COMMON_FIRST)]).toEqual(new Array(16).fill(0));
    expect(Number.isFinite(plain[CURVATURE[0]])).toBe(true);
    expect(plain[WARP_FIRST]).toBe(Number.POSITIVE_INFINITY);
    expect(plain[REMAINDER_FIRST]).toBe(Number.POSITIVE_INFINITY);
    expect(precisionsOf({ ...PLAIN, warp: 0 }, 1e-5, JOINT_PARAMETERS)[CURVATURE[0]]).toBe(Number.POSITIVE_INFINITY);
    const generous = precisionsOf(GENEROUS, 1e-5, JOINT_PARAMETERS);
    expect(generous.every(Number.isFinite)).toBe(true);
  });
});

it('whitens all parameters, or those that are asked for', () => {
  const linear = marksWith(() => ({ x: 0, y: 0 }), 7);
  const all = whitenFor(linear, 3)!;
  const some = whitenFor(linear, 3, [2, 5])!;
  expect(some.design.cols).toBe(2);
  expect(some.gram.data[0]).toBeCloseTo(all.gram.data[2 * JOINT_PARAMETERS + 2], 3);
  expect(some.logDeterminant).toBe(all.logDeterminant);
});

it('does not believe a scatter that is too small to be true, least of all of few marks', () => {
  expect(minScale2For(95)).toBeCloseTo(0.64, 12);
  expect(minScale2For(12)).toBe(1);
});
