import { describe, expect, it } from 'vitest';
import { type Homography, transfer } from '../../src/kernel/homography.ts';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import {
  distort,
  distortDerivative,
  type Lens,
  obliquityOf,
  pixelsPerHeight,
  plainLens,
  project,
  projectDerivative,
  slantOf,
} from '../../src/kernel/view.ts';

const barrel: Lens = { centre: { x: 1990, y: 1520 }, radius_px: 2500, k1: -0.08, k2: 0.02 };
const photoFromChart: Homography = [1400, 60, 2010, 45, -1380, 1490, 0.03, -0.02, 1];

/** Central differences of a map of the plane, in the order of the derivative functions. */
function differences(map: (p: Point) => Point, { x, y }: Point, h: number): number[] {
  const [east, west] = [map({ x: x + h, y }), map({ x: x - h, y })];
  const [north, south] = [map({ x, y: y + h }), map({ x, y: y - h })];
  return [east.x - west.x, north.x - south.x, east.y - west.y, north.y - south.y].map((d) => d / (2 * h));
}

describe('plainLens', () => {
  it('has its centre in the middle of the pixel grid and reaches r = 1 at the corners', () => {
    const lens = plainLens(4000, 3000);
    // Pixels 0 to 3999: the middle lies between pixels 1999 and 2000.
    expect(lens.centre).toEqual({ x: 1999.5, y: 1499.5 });
    expect(lens.radius_px).toBe(2500);
    expect(plainLens(1, 1).centre).toEqual({ x: 0, y: 0 });
  });

  it('leaves every point where it is', () => {
    expect(distort(plainLens(4000, 3000), { x: 12.5, y: 2900 })).toEqual({ x: 12.5, y: 2900 });
  });
});

describe('distort', () => {
  it('moves a point at r = 1 outwards by k1 + k2 of the radius, along the radius', () => {
    const lens: Lens = { centre: { x: 100, y: 200 }, radius_px: 500, k1: 0.03, k2: 0.01 };
    expect(distort(lens, { x: 600, y: 200 }).x).toBeCloseTo(620, 10);
    expect(distort(lens, { x: 600, y: 200 }).y).toBe(200);
    const seen = distort(lens, { x: 100 + 300, y: 200 - 400 });
    expect(seen.x).toBeCloseTo(100 + 300 * 1.04, 10);
    expect(seen.y).toBeCloseTo(200 - 400 * 1.04, 10);
  });

  it('grows with the fourth power of the radius where k1 is zero', () => {
    const lens: Lens = { centre: { x: 0, y: 0 }, radius_px: 100, k1: 0, k2: 0.5 };
    const stretch = (r: number) => distort(lens, { x: r, y: 0 }).x / r - 1;
    expect(stretch(80) / stretch(40)).toBeCloseTo(16, 8);
  });

  it('keeps its centre', () => expect(distort(barrel, barrel.centre)).toEqual(barrel.centre));
});

describe('derivatives', () => {
  const random = createRandom(1);
  const places = Array.from({ length: 25 }, () => ({ x: random.between(0, 4000), y: random.between(0, 3000) }));

  it('distortDerivative agrees with differences of distort', () => {
    for (const place of places) {
      const expected = differences((p) => distort(barrel, p), place, 0.5);
      for (const [i, d] of distortDerivative(barrel, place).entries()) {
        expect(Math.abs(d - expected[i])).toBeLessThan(1e-8);
      }
    }
  });

  it('projectDerivative agrees with differences of project', () => {
    for (let i = 0; i < 25; i++) {
      const at = { x: random.between(-1.2, 1.2), y: random.between(-0.5, 0.5) };
      const expected = differences((c) => project({ photoFromChart, lens: barrel }, c), at, 1e-4);
      const written = projectDerivative({ photoFromChart, lens: barrel }, at);
      for (const [k, d] of written.entries()) expect(Math.abs(d - expected[k])).toBeLessThan(2e-4);
      expect(Math.max(...written.map(Math.abs))).toBeGreaterThan(500);
    }
  });
});

describe('project', () => {
  it('is the homography first and the lens after it', () => {
    const at = { x: 0.8, y: -0.3 };
    expect(project({ photoFromChart, lens: barrel }, at)).toEqual(distort(barrel, transfer(photoFromChart, at)));
  });

  it('a chart point further up is seen further up: at smaller y of the photograph', () => {
    const view = { photoFromChart, lens: plainLens(4000, 3000) };
    expect(project(view, { x: 0, y: 0.4 }).y).toBeLessThan(project(view, { x: 0, y: -0.4 }).y);
  });
});

describe('pixelsPerHeight', () => {
  const lens = plainLens(4000, 3000);

  it('is the scale of a view square on, whichever way round', () => {
    expect(pixelsPerHeight({ photoFromChart: [1400, 0, 2000, 0, -1400, 1500, 0, 0, 1], lens })).toBeCloseTo(1400, 9);
    expect(pixelsPerHeight({ photoFromChart: [0, 1400, 2000, 1400, 0, 1500, 0, 0, 1], lens })).toBeCloseTo(1400, 9);
  });

  it('is the geometric mean of both directions of a foreshortened view', () => {
    expect(pixelsPerHeight({ photoFromChart: [700, 0, 2000, 0, -1400, 1500, 0, 0, 1], lens })).toBeCloseTo(
      700 * Math.SQRT2,
      9,
    );
  });
});

type Vector = readonly [number, number, number];
const unit = (v: Vector): Vector => v.map((c) => c / Math.hypot(...v)) as unknown as Vector;
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** A pinhole camera at `place` (picture heights; z out of the screen) that looks at the picture's centre, rolled. */
function seenFrom(place: Vector, roll_deg: number): Homography {
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
    const view = seenFrom([3 * Math.sin(a), 3 * Math.sin(e), 3 * Math.cos(a) * Math.cos(e)], roll_deg);
    expect(obliquityOf(view)).toBeCloseTo(Math.hypot(aside, above), 4);
    const slant = slantOf(view);
    expect(slant.aside_deg).toBeCloseTo(aside, 4);
    expect(slant.above_deg).toBeCloseTo(above, 4);
  }
});

it('both ways at once keep their proportion', () => {
  const slant = slantOf(seenFrom([1, -0.5, 4], 2));
  expect(slant.aside_deg / slant.above_deg).toBeCloseTo(-2, 6);
  expect(Math.hypot(slant.aside_deg, slant.above_deg)).toBeCloseTo(
    (Math.acos(4 / Math.hypot(1, 0.5, 4)) * 180) / Math.PI,
    6,
  );
});
