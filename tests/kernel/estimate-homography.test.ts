import { describe, expect, it } from 'vitest';
import {
  estimateHomography,
  type HomographyEstimate,
  type Information,
  transferJacobian,
} from '../../src/kernel/estimate-homography.ts';
import { type Homography, transfer } from '../../src/kernel/homography.ts';
import {
  elementAt,
  invertSymmetric,
  type Matrix,
  matrixFromRows,
  symmetricEigen,
} from '../../src/kernel/linear-algebra.ts';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { rootMeanSquare } from '../../src/kernel/statistics.ts';
import { expectJacobian } from './check-jacobian.ts';

/** A chart of picture heights photographed at an angle: pixels. */
const PHOTO_FROM_CHART: Homography = [1500, 40, 2100, -60, -1450, 1380, 0.05, -0.03, 1];

function grid(columns: number, rows: number): Point[] {
  return Array.from({ length: columns * rows }, (_, i) => ({
    x: -0.9 + (1.8 * (i % columns)) / (columns - 1),
    y: -0.5 + Math.floor(i / columns) / (rows - 1),
  }));
}

function estimate(
  from: readonly Point[],
  to: readonly Point[],
  information?: readonly Information[],
): HomographyEstimate {
  const result = estimateHomography(from, to, information);
  if (result.outcome === 'refused') throw new Error(`refused: ${result.code} ${JSON.stringify(result.facts)}`);
  return result;
}

describe('refusals', () => {
  const square: Point[] = [
    { x: 0, y: 0 },
    { x: 1, y: 0 },
    { x: 1, y: 1 },
    { x: 0, y: 1 },
  ];
  const code = (from: readonly Point[], to: readonly Point[]) => {
    const result = estimateHomography(from, to);
    return result.outcome === 'refused' ? result : result.outcome;
  };

  it('too few points', () => {
    expect(code(square.slice(0, 3), square.slice(0, 3))).toMatchObject({
      code: 'too-few-points',
      facts: { points: 3 },
    });
    expect(code([], [])).toMatchObject({ code: 'too-few-points', facts: { points: 0 } });
  });

  it('four points of which one does not count', () => {
    const one = { xx: 1, xy: 0, yy: 1 };
    const result = estimateHomography(square, square, [one, one, { xx: 0, xy: 0, yy: 0 }, one]);
    expect(result).toMatchObject({ outcome: 'refused', code: 'too-few-points', facts: { points: 3 } });
  });

  it('four points measured in one direction only', () => {
    const result = estimateHomography(
      square,
      square,
      square.map(() => ({ xx: 1, xy: 0, yy: 0 })),
    );
    expect(result).toMatchObject({ code: 'too-few-points', facts: { points: 4, coordinates: 4, least: 8 } });
  });

  it.each([
    ['all points on a line', [0, 1, 2, 3, 4].map((x) => ({ x, y: 0.3 * x + 0.1 }))],
    ['all points but one on a line', [...[0, 1, 2, 3].map((x) => ({ x, y: 0.3 * x })), { x: 5, y: 7 }]],
    ['three of four on a line', [square[0], { x: 0.5, y: 0.5 }, square[2], square[3]]],
    ['two of four in the same place', [square[0], square[0], square[1], square[2]]],
    ['all in the same place', [square[1], square[1], square[1], square[1]]],
  ])('%s, in either frame', (_, degenerate) => {
    const sound = [...square, { x: 0.4, y: 0.3 }].slice(0, degenerate.length);
    expect(code(degenerate, sound)).toMatchObject({ code: 'collinear-points', facts: { frame: 'from' } });
    expect(code(sound, degenerate)).toMatchObject({ code: 'collinear-points', facts: { frame: 'to' } });
    const far = degenerate.map(({ x, y }) => ({ x: 3000 + 700 * x, y: 2000 + 700 * y }));
    expect(code(far, sound)).toMatchObject({ code: 'collinear-points', facts: { frame: 'from' } });
  });

  it('three places, each twice', () => {
    const twice = [...square.slice(0, 3), ...square.slice(0, 3)];
    expect(code(twice, twice)).toMatchObject({ code: 'collinear-points', facts: { frame: 'both' } });
  });

  it('coordinates that are not finite, with the place in the list', () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY]) {
      const broken = square.map((p, i) => (i === 2 ? { x: 1, y: bad } : p));
      expect(code(broken, square)).toEqual({ outcome: 'refused', code: 'not-finite', facts: { point: 2 } });
      expect(code(square, broken)).toEqual({ outcome: 'refused', code: 'not-finite', facts: { point: 2 } });
    }
  });

  it('a mapping that sends the origin to infinity', () => {
    const from = grid(5, 4).map(({ x, y }) => ({ x: x + 3, y: y + 0.5 }));
    expect(
      code(
        from,
        from.map(({ x, y }) => ({ x: 1 / x, y: y / x })),
      ),
    ).toMatchObject({ code: 'not-finite' });
  });

  it('throws for lists of different length and impossible information', () => {
    expect(() => estimateHomography(square, square.slice(1))).toThrow(RangeError);
    expect(() => estimateHomography(square, square, [])).toThrow(RangeError);
    for (const impossible of [
      { xx: -1, xy: 0, yy: 1 },
      { xx: 1, xy: 2, yy: 1 },
      { xx: Number.NaN, xy: 0, yy: 1 },
      { xx: 1, xy: Number.NaN, yy: 1 },
    ]) {
      expect(() =>
        estimateHomography(
          square,
          square,
          square.map(() => impossible),
        ),
      ).toThrow(RangeError);
    }
  });
});

describe('exact points', () => {
  it.each([
    ['four corners', grid(2, 2)],
    ['a grid', grid(5, 5)],
  ])('%s give the homography back', (_, from) => {
    const fit = estimate(
      from,
      from.map((p) => transfer(PHOTO_FROM_CHART, p)),
    );
    fit.homography.forEach((v, k) => {
      expect(Math.abs(v - PHOTO_FROM_CHART[k])).toBeLessThan(1e-11 * Math.max(1, Math.abs(PHOTO_FROM_CHART[k])));
    });
    for (const { x, y } of fit.residuals) expect(Math.hypot(x, y)).toBeLessThan(1e-11);
    expect(fit.redundancy).toBe(2 * from.length - 8);
  });

  it('a strong perspective and a far origin', () => {
    const h: Homography = [2, 0.3, -5, 0.1, 1.5, 9, 0.3, 0.2, 1];
    const from = grid(6, 4).map(({ x, y }) => ({ x: x + 40, y: y + 30 }));
    const fit = estimate(
      from,
      from.map((p) => transfer(h, p)),
    );
    from.forEach((p) => {
      const difference = Math.hypot(
        transfer(fit.homography, p).x - transfer(h, p).x,
        transfer(fit.homography, p).y - transfer(h, p).y,
      );
      expect(difference).toBeLessThan(1e-12);
    });
  });
});

describe('derivatives', () => {
  it('of the transfer agree with differences', () => {
    const points = [
      { x: 0.3, y: -0.4 },
      { x: -0.9, y: 0.5 },
    ];
    const homographyOf = (p: ArrayLike<number>) => [...Array.from(p), 1] as unknown as Homography;
    expectJacobian(
      {
        residualCount: 4,
        writeResiduals(parameters, residuals) {
          points.forEach((p, i) => {
            const image = transfer(homographyOf(parameters), p);
            residuals.set([image.x, image.y], 2 * i);
          });
        },
        writeJacobian(parameters, jacobian) {
          points.forEach((p, i) => {
            jacobian.data.set(transferJacobian(homographyOf(parameters), p).data, 16 * i);
          });
        },
      },
      PHOTO_FROM_CHART.slice(0, 8),
    );
  });

  it('give the covariance (J^T W J)^-1 in the frames of the caller', () => {
    const from = grid(4, 3);
    const information = { xx: 25, xy: -6, yy: 9 };
    const fit = estimate(
      from,
      from.map((p) => transfer(PHOTO_FROM_CHART, p)),
      from.map(() => information),
    );
    const normal = Array.from({ length: 8 }, () => new Array<number>(8).fill(0));
    for (const p of from) {
      const j = transferJacobian(PHOTO_FROM_CHART, p);
      for (let a = 0; a < 8; a++) {
        for (let b = 0; b < 8; b++) {
          const [xa, ya, xb, yb] = [elementAt(j, 0, a), elementAt(j, 1, a), elementAt(j, 0, b), elementAt(j, 1, b)];
          normal[a][b] += information.xx * xa * xb + information.xy * (xa * yb + ya * xb) + information.yy * ya * yb;
        }
      }
    }
    const expected = invertSymmetric(matrixFromRows(normal))!;
    for (let a = 0; a < 8; a++) {
      for (let b = 0; b < 8; b++) {
        const size = Math.sqrt(elementAt(expected, a, a) * elementAt(expected, b, b));
        expect(Math.abs(elementAt(fit.covariance, a, b) - elementAt(expected, a, b)) / size).toBeLessThan(1e-8);
      }
    }
  });
});

describe('noisy points', () => {
  const from = grid(5, 5);
  const truth = from.map((p) => transfer(PHOTO_FROM_CHART, p));
  const sigma = 0.02;
  const runs = 1500;
  const random = createRandom(2024);
  const fits = Array.from({ length: runs }, () =>
    estimate(
      from,
      truth.map(({ x, y }) => ({ x: x + sigma * random.normal(), y: y + sigma * random.normal() })),
      from.map(() => ({ xx: sigma ** -2, xy: 0, yy: sigma ** -2 })),
    ),
  );

  it('25 of them leave residuals of 0.9165 sigma and errors of 0.400 sigma', () => {
    // Hartley and Zisserman, section 5.1.3; from memory, unconfirmed.
    const residual = rootMeanSquare(fits.flatMap(({ residuals }) => residuals.flatMap(({ x, y }) => [x, y]))) / sigma;
    const errors = fits.flatMap(({ homography }) =>
      from.flatMap((p, i) => {
        const image = transfer(homography, p);
        return [image.x - truth[i].x, image.y - truth[i].y];
      }),
    );
    // Relative standard errors of the two: 1 / sqrt(2 * 42 * runs) and 1 / sqrt(2 * 8 * runs).
    expect(Math.abs(residual / Math.sqrt(1 - 4 / 25) - 1)).toBeLessThan(4 / Math.sqrt(84 * runs));
    expect(Math.abs(rootMeanSquare(errors) / sigma / Math.sqrt(4 / 25) - 1)).toBeLessThan(4 / Math.sqrt(16 * runs));
    expect(Math.sqrt(1 - 4 / 25)).toBeCloseTo(0.9165, 4);
    expect(Math.sqrt(4 / 25)).toBeCloseTo(0.4, 12);
  });

  it('have the residual variance 1 in units of their own', () => {
    const mean = fits.reduce((sum, { residualVariance }) => sum + residualVariance! / runs, 0);
    expect(Math.abs(mean - 1)).toBeLessThan(4 * Math.sqrt(2 / (42 * runs)));
  });

  it('scatter the parameters as the covariance says, eigenvalue by eigenvalue', () => {
    // Whitened by the predicted standard deviations, because h0 and h6 differ by five orders of magnitude.
    const predicted = fits[0].covariance;
    const deviations = Array.from({ length: 8 }, (_, j) => Math.sqrt(elementAt(predicted, j, j)));
    const correlation: Matrix = {
      rows: 8,
      cols: 8,
      data: predicted.data.map((v, k) => v / (deviations[Math.floor(k / 8)] * deviations[k % 8])),
    };
    const { values, vectors } = symmetricEigen(correlation);
    for (let k = 0; k < 8; k++) {
      const variance = fits.reduce((sum, { homography }) => {
        let along = 0;
        for (let j = 0; j < 8; j++) {
          along += (elementAt(vectors, j, k) * (homography[j] - PHOTO_FROM_CHART[j])) / deviations[j];
        }
        return sum + along ** 2 / runs;
      }, 0);
      expect(Math.abs(variance / values[k] - 1), `eigenvalue ${k}`).toBeLessThan(4 * Math.sqrt(2 / runs));
    }
  });

  it('without information give a covariance for sigma = 1', () => {
    const plain = estimate(from, truth);
    const scaled = estimate(
      from,
      truth,
      from.map(() => ({ xx: 4, xy: 0, yy: 4 })),
    );
    for (let k = 0; k < 64; k++) {
      const size = Math.sqrt(plain.covariance.data[9 * Math.floor(k / 8)] * plain.covariance.data[9 * (k % 8)]);
      expect(Math.abs(plain.covariance.data[k] - 4 * scaled.covariance.data[k]) / size).toBeLessThan(1e-9);
    }
  });

  it('that do not count have no influence but a residual', () => {
    const noise = createRandom(5);
    const noisy = truth.map(({ x, y }) => ({ x: x + noise.normal(), y: y + noise.normal() }));
    const spoilt = noisy.map((p, i) => (i === 7 ? { x: p.x + 500, y: p.y } : p));
    const information = from.map((_, i) => (i === 7 ? { xx: 0, xy: 0, yy: 0 } : { xx: 1, xy: 0, yy: 1 }));
    const without = estimate(
      from.filter((_, i) => i !== 7),
      noisy.filter((_, i) => i !== 7),
    );
    const weighted = estimate(from, spoilt, information);
    expect(weighted.homography).toEqual(without.homography);
    expect(weighted.redundancy).toBe(40);
    expect(Math.hypot(weighted.residuals[7].x, weighted.residuals[7].y)).toBeGreaterThan(490);
  });

  it('measured in one direction only still determine it, if there are enough', () => {
    const information = from.map((_, i) => (i % 2 === 0 ? { xx: 1, xy: 0, yy: 0 } : { xx: 0, xy: 0, yy: 1 }));
    const fit = estimate(from, truth, information);
    expect(Math.abs(fit.homography[0] - PHOTO_FROM_CHART[0])).toBeLessThan(1e-8);
    expect(fit.redundancy).toBe(25 - 8);
  });
});
