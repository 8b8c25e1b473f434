import { describe, expect, it } from 'vitest';
import { LENS_PARAMETERS, LENS_PRIOR, predict, writeDerivatives } from '../../src/geometry/view-model.ts';
import { project } from '../../src/kernel/view.ts';
import { expectJacobian } from '../kernel/check-jacobian.ts';

const left = [0.8, 0.03, 0.02, 0.05, -0.79, -0.01, 0.04, -0.02];
const right = [0.81, 0.02, 0.03, 0.04, -0.8, -0.02, 0.03, -0.01];
const lens = [0.07, -0.03, 0.012, -0.008];
const parameters = [...left, ...right, ...lens];
const places = [
  { x: 0, y: 0 },
  { x: 1.1, y: 0.45 },
  { x: -1.1, y: 0.4 },
  { x: 0.3, y: -0.48 },
];

describe('predict', () => {
  it('is the view of kernel/view.ts in a frame of half the diagonal', () => {
    for (const [first, h] of [
      [0, left],
      [8, right],
    ] as const) {
      const view = {
        photoFromChart: [...h, 1] as unknown as Parameters<typeof project>[0]['photoFromChart'],
        lens: { centre: { x: lens[2], y: lens[3] }, radius_px: 1, k1: lens[0], k2: lens[1] },
      };
      for (const at of places) {
        const seen = predict(parameters, first, 16, at);
        expect(seen.x).toBeCloseTo(project(view, at).x, 14);
        expect(seen.y).toBeCloseTo(project(view, at).y, 14);
      }
    }
  });
});

describe('writeDerivatives', () => {
  it.each([0, 8])('agrees with differences of predict, homography from parameter %d on', (first) => {
    expectJacobian(
      {
        residualCount: 2 * places.length,
        writeResiduals(p, out) {
          for (const [i, at] of places.entries()) {
            const { x, y } = predict(p, first, 16, at);
            out[2 * i] = x;
            out[2 * i + 1] = y;
          }
        },
        writeJacobian(p, jacobian) {
          for (const [i, at] of places.entries()) writeDerivatives(p, first, 16, at, jacobian, 2 * i);
        },
      },
      parameters,
    );
  });
});

it('every lens parameter has a prior', () => {
  expect(LENS_PRIOR).toHaveLength(LENS_PARAMETERS);
  expect(LENS_PRIOR.every((sigma) => sigma > 0)).toBe(true);
});
