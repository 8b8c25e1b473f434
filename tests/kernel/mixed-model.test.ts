import { describe, expect, it } from 'vitest';
import {
  createMatrix,
  identityMatrix,
  type Matrix,
  propagateCovariance,
  scale,
} from '../../src/kernel/linear-algebra.ts';
import { fitLinear } from '../../src/kernel/linear-fit.ts';
import {
  covarianceOf,
  estimateMixed,
  leavePairsOut,
  propagatePairs,
  responseOf,
  whitenModel,
} from '../../src/kernel/mixed-model.ts';
import { createRandom } from '../../src/kernel/random.ts';

const random = createRandom(77);
const ROWS = 12;
const design: Matrix = {
  rows: ROWS,
  cols: 3,
  data: Float64Array.from({ length: 3 * ROWS }, (_, i) => (i % 3 === 0 ? 1 : random.normal())),
};
const observed = Float64Array.from(
  { length: ROWS },
  (_, r) => 2 - 0.5 * design.data[3 * r + 1] + 0.3 * random.normal(),
);
/** Errors that follow one another within a block. */
function block(n: number): Matrix {
  const m = createMatrix(n, n);
  for (let r = 0; r < n; r++)
    for (let c = 0; c < n; c++) m.data[r * n + c] = 0.6 ** Math.abs(r - c) + (r === c ? 0.2 : 0);
  return m;
}
const blocks = [block(8), block(4)];
const rows = (skip?: number) =>
  Array.from({ length: ROWS }, (_, r) => r).filter((r) => skip === undefined || (r !== skip && r !== skip + 1));

describe('estimateMixed', () => {
  it('with fixed effects and white noise is ordinary least squares', () => {
    const model = whitenModel(design, observed, [identityMatrix(ROWS)])!;
    const fit = estimateMixed(model, [0, 0, 0])!;
    const plain = fitLinear(
      rows().map((r) => [...design.data.slice(3 * r, 3 * r + 3)]),
      observed,
    )!;
    for (const [k, p] of plain.parameters.entries()) expect(fit.parameters[k]).toBeCloseTo(p, 12);
    expect(Math.sqrt(fit.scale2)).toBeCloseTo(plain.scatter!, 12);
    for (const [k, v] of covarianceOf(fit).data.entries()) expect(v).toBeCloseTo(plain.inverseGram.data[k], 12);
    expect(fit.redundancy).toBe(ROWS - 3);
  });

  it('shrinks an effect as an observation of zero would, and leaves one out that it is told to', () => {
    const model = whitenModel(design, observed, blocks)!;
    const loose = estimateMixed(model, [0, 0, 1e-9])!;
    const tight = estimateMixed(model, [0, 0, 1e9])!;
    const without = estimateMixed(model, [0, 0, Number.POSITIVE_INFINITY])!;
    expect(Math.abs(tight.parameters[2])).toBeLessThan(1e-7);
    expect(without.parameters[2]).toBe(0);
    expect(without.active).toEqual([0, 1]);
    expect(tight.parameters[0]).toBeCloseTo(without.parameters[0], 6);
    expect(covarianceOf(without).data[8]).toBe(0);
    expect(Math.abs(loose.parameters[2])).toBeGreaterThan(1e-4);
  });

  it('prefers the noise and the shrinkage that the data were made with', () => {
    const source = createRandom(5);
    let right = 0;
    for (let k = 0; k < 40; k++) {
      const n = 60;
      const x: Matrix = { rows: n, cols: 1, data: new Float64Array(n).fill(1) };
      let state = source.normal();
      const y = Float64Array.from({ length: n }, () => {
        state = 0.6 * state + 0.8 * source.normal();
        return state;
      });
      const white = estimateMixed(whitenModel(x, y, [identityMatrix(n)])!, [0])!;
      const long = createMatrix(n, n);
      for (let r = 0; r < n; r++) for (let c = 0; c < n; c++) long.data[r * n + c] = 0.6 ** Math.abs(r - c);
      const follows = estimateMixed(whitenModel(x, y, [long])!, [0])!;
      if (follows.logLikelihood > white.logLikelihood) right++;
    }
    expect(right).toBeGreaterThan(36);
  });

  it('is the same likelihood for the same noise in another unit', () => {
    const one = estimateMixed(whitenModel(design, observed, blocks)!, [0, 0, 0])!;
    const other = estimateMixed(
      whitenModel(
        design,
        observed,
        blocks.map((b) => scale(b, 9)),
      )!,
      [0, 0, 0],
    )!;
    expect(other.logLikelihood).toBeCloseTo(one.logLikelihood, 9);
    expect(other.scale2).toBeCloseTo(one.scale2 / 9, 12);
  });

  it('has no answer where the data fix nothing', () => {
    const empty = createMatrix(ROWS, 1);
    expect(estimateMixed(whitenModel(empty, observed, blocks)!, [0])).toBeUndefined();
    expect(whitenModel(design, observed, [scale(identityMatrix(ROWS), -1)])).toBeUndefined();
    expect(() => whitenModel(design, observed, [identityMatrix(3)])).toThrow(RangeError);
  });
});

describe('responseOf', () => {
  it('is what a change of an observation does to the parameters', () => {
    const model = whitenModel(design, observed, blocks)!;
    const fit = estimateMixed(model, [0, 0, 2])!;
    const response = responseOf(model, fit);
    for (const r of [0, 7, 8, 11]) {
      const changed = Float64Array.from(observed, (v, i) => (i === r ? v + 1 : v));
      const after = estimateMixed(whitenModel(design, changed, blocks)!, [0, 0, 2])!;
      for (let k = 0; k < 3; k++)
        expect(response.data[k * ROWS + r]).toBeCloseTo(after.parameters[k] - fit.parameters[k], 10);
    }
  });
});

it('propagatePairs is the propagation of a covariance of 2 x 2 blocks', () => {
  const response: Matrix = { rows: 2, cols: 4, data: Float64Array.of(1, 2, 0, -1, 0.5, 0, 3, 1) };
  const noise = createMatrix(4, 4);
  noise.data.set([4, 1, 0, 0, 1, 2, 0, 0, 0, 0, 3, -1, 0, 0, -1, 5]);
  const expected = propagateCovariance(response, scale(noise, 2));
  const pairs = propagatePairs(
    response,
    [
      [4, 1, 2],
      [3, -1, 5],
    ],
    2,
  );
  for (const [k, v] of pairs.data.entries()) expect(v).toBeCloseTo(expected.data[k], 12);
});

describe('leavePairsOut', () => {
  it('is what the fit without the pair predicts of it', () => {
    const precisions = [0, 0, 2];
    const model = whitenModel(design, observed, [identityMatrix(ROWS)])!;
    const left = leavePairsOut(model, estimateMixed(model, precisions)!);
    for (const pair of [0, 2, 5]) {
      const kept = rows(2 * pair);
      const without = whitenModel(
        {
          rows: kept.length,
          cols: 3,
          data: Float64Array.from(kept.flatMap((r) => [...design.data.slice(3 * r, 3 * r + 3)])),
        },
        kept.map((r) => observed[r]),
        [identityMatrix(kept.length)],
      )!;
      const fit = estimateMixed(without, precisions)!;
      const covariance = covarianceOf(fit);
      const row = design.data.slice(6 * pair, 6 * pair + 3);
      const predicted = row.reduce((sum, v, k) => sum + v * fit.parameters[k], 0);
      expect(left[pair].residual[0]).toBeCloseTo(observed[2 * pair] - predicted, 10);
      let variance = 1;
      for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) variance += row[i] * row[j] * covariance.data[3 * i + j];
      expect(left[pair].covariance![0]).toBeCloseTo(variance, 10);
    }
  });
});
