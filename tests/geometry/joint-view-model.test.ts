import { describe, expect, it } from 'vitest';
import {
  COMMON_FIRST,
  JOINT_PARAMETERS,
  jointJacobian,
  predictJoint,
  REMAINDER_FIRST,
  SMOOTH_DEGREES,
  smoothBasis,
  startJoint,
  WARP_FIRST,
} from '../../src/geometry/joint-view-model.ts';
import { IDENTITY, transfer } from '../../src/kernel/homography.ts';
import { createRandom } from '../../src/kernel/random.ts';

const frame = { photoFromCommon: [0.6, 0.02, 0.03, 0.01, -0.6, -0.02, 0.02, -0.01, 1], aspect: 2.35 } as const;
const places = [
  { x: 0, y: 0 },
  { x: 1.1, y: 0.45 },
  { x: -1.1, y: 0.4 },
  { x: 0.3, y: -0.48 },
];

describe('predictJoint', () => {
  it('through a plain lens on a flat screen is the homography', () => {
    const p = startJoint(IDENTITY, IDENTITY);
    for (const at of places) {
      for (const eye of ['left', 'right'] as const) {
        const { seen } = predictJoint(p, frame, eye, at);
        const plain = transfer(frame.photoFromCommon, at);
        expect(seen.x).toBeCloseTo(plain.x, 13);
        expect(seen.y).toBeCloseTo(plain.y, 13);
      }
    }
  });

  it('has the derivatives that it writes', () => {
    const random = createRandom(8);
    const p = startJoint([1.01, 0.004, 0.003, -0.002, 0.99, 0.005, 0.003, 0.002, 1], IDENTITY);
    for (let k = COMMON_FIRST; k < JOINT_PARAMETERS; k++) p[k] = 0.01 * random.normal();
    p[COMMON_FIRST + 7] = 0.05;
    p[COMMON_FIRST + 10] = 0.04;
    const step = 1e-6;
    for (const eye of ['left', 'right'] as const) {
      for (const at of places) {
        const jacobian = jointJacobian(1);
        predictJoint(p, frame, eye, at, jacobian, 0);
        for (let k = 0; k < JOINT_PARAMETERS; k++) {
          const shifted = (by: number) =>
            predictJoint(
              Float64Array.from(p, (v, i) => (i === k ? v + by : v)),
              frame,
              eye,
              at,
            ).seen;
          const [above, below] = [shifted(step), shifted(-step)];
          expect(jacobian.data[k]).toBeCloseTo((above.x - below.x) / (2 * step), 6);
          expect(jacobian.data[JOINT_PARAMETERS + k]).toBeCloseTo((above.y - below.y) / (2 * step), 6);
        }
      }
    }
  });

  it('moves the eyes apart by the remainder, and together by the warp', () => {
    const p = startJoint(IDENTITY, IDENTITY);
    const at = places[1];
    const apart = () => {
      const [l, r] = [predictJoint(p, frame, 'left', at).seen, predictJoint(p, frame, 'right', at).seen];
      return Math.hypot(r.x - l.x, r.y - l.y);
    };
    p[WARP_FIRST] = 0.01;
    expect(apart()).toBeCloseTo(0, 12);
    p[REMAINDER_FIRST] = 0.01;
    expect(apart()).toBeGreaterThan(0.003);
  });
});

it('the smooth functions have degree 2 to 5, and stay within 1', () => {
  expect(SMOOTH_DEGREES.map(([i, j]) => i + j).sort()).toEqual([2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 4, 5, 5, 5, 5, 5, 5]);
  const corner = smoothBasis({ x: 1.175, y: 0.5 }, 2.35);
  for (const v of corner) expect(v).toBeCloseTo(1, 12);
  for (const v of smoothBasis({ x: 0.4, y: -0.2 }, 2.35)) expect(Math.abs(v)).toBeLessThan(1);
});
