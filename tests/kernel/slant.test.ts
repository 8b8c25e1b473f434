import { expect, it } from 'vitest';
import type { Homography } from '../../src/kernel/homography.ts';
import { obliquityOf, slantOf } from '../../src/kernel/slant.ts';

type Vector = readonly [number, number, number];
const unit = (v: Vector): Vector => v.map((c) => c / Math.hypot(...v)) as unknown as Vector;
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** A pinhole camera at `place` (picture heights; z out of the screen) that looks at the picture's centre, rolled. */
function photoFromChart(place: Vector, roll_deg: number): Homography {
  const forward = unit(place.map((c) => -c) as unknown as Vector);
  const right = unit(cross(forward, [0, 1, 0]));
  const down = cross(forward, right);
  const [c, s] = [Math.cos((roll_deg * Math.PI) / 180), Math.sin((roll_deg * Math.PI) / 180)];
  const rows = [right.map((v, i) => c * v + s * down[i]!), right.map((v, i) => c * down[i]! - s * v), [...forward]];
  const depth = Math.hypot(...place);
  const [x, y, z] = rows.map(([a, b]) => [a! / depth, b! / depth]) as [number[], number[], number[]];
  return [3000 * x[0]!, 3000 * x[1]!, 0, 3000 * y[0]!, 3000 * y[1]!, 0, z[0]!, z[1]!, 1];
}

it.each([
  [0, 0],
  [12, 0],
  [-12, 0],
  [0, 7],
  [0, -35],
])('a camera %d degrees to the right and %d above is seen from there', (aside, above) => {
  const [a, e] = [(aside * Math.PI) / 180, (above * Math.PI) / 180];
  for (const roll_deg of [0, 3, -20]) {
    const view = photoFromChart([3 * Math.sin(a), 3 * Math.sin(e), 3 * Math.cos(a) * Math.cos(e)], roll_deg);
    expect(obliquityOf(view)).toBeCloseTo(Math.hypot(aside, above), 4);
    const slant = slantOf(view);
    expect(slant.aside_deg).toBeCloseTo(aside, 4);
    expect(slant.above_deg).toBeCloseTo(above, 4);
  }
});

it('both ways at once keep their proportion', () => {
  const slant = slantOf(photoFromChart([1, -0.5, 4], 2));
  expect(slant.aside_deg / slant.above_deg).toBeCloseTo(-2, 6);
  expect(Math.hypot(slant.aside_deg, slant.above_deg)).toBeCloseTo(
    (Math.acos(4 / Math.hypot(1, 0.5, 4)) * 180) / Math.PI,
    6,
  );
});
