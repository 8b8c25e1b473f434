import { describe, expect, it } from 'vitest';
import type { Pixels } from '../../src/imaging/pixels.ts';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';
import {
  collectCrossingPixels,
  EDGE_END,
  edgeProfile,
  edgeSlope,
  frameExtent,
  predictFrame,
} from '../../src/vision/crossing-pixels.ts';
import { erf } from '../../src/kernel/statistics.ts';
import type { Point } from '../../src/kernel/point.ts';
import { project, type View } from '../../src/kernel/view.ts';
import { BRIGHT_AXIS_DEG, MARK_PROPORTIONS } from '../../src/target/chart.ts';
import { markAtOrigin, obliqueView, squareView, viewOf } from './photograph-marks.ts';

const SIZE = 120;
/** Each pixel has a code of its own along x and along y. */
const picture: Pixels = {
  width: SIZE,
  height: SIZE,
  channels: 1,
  data: Uint16Array.from({ length: SIZE * SIZE }, (_, i) => 100 * (i % SIZE) + 250 * Math.floor(i / SIZE)),
};
const frame = { centre: { x: 60.3, y: 58.6 }, a1: { x: 40, y: 8 }, a2: { x: -6, y: -38 } };

describe('collectCrossingPixels', () => {
  it('gives each pixel’s light with its place relative to the frame’s centre', () => {
    const { count, x, y, light } = collectCrossingPixels(picture, frame, 1)!;
    expect(count).toBeGreaterThan(1000);
    for (let k = 0; k < count; k += 17) {
      const [column, row] = [x[k] + 60.3, y[k] + 58.6];
      expect(Math.abs(column - Math.round(column))).toBeLessThan(1e-9);
      expect(light[k]).toBeCloseTo(linearFromSrgb((100 * Math.round(column) + 250 * Math.round(row)) / 65535), 6);
    }
  });

  it('keeps clear of the quadrants’ ends by two and a half times the blur', () => {
    for (const blur_px of [0.8, 3]) {
      const { count, x, y } = collectCrossingPixels(picture, frame, blur_px)!;
      const { a1, a2 } = frame;
      const determinant = a1.x * a2.y - a1.y * a2.x;
      let furthest = 0;
      for (let k = 0; k < count; k++) {
        const s = (x[k] * a2.y - y[k] * a2.x) / determinant;
        const t = (a1.x * y[k] - a1.y * x[k]) / determinant;
        furthest = Math.max(furthest, Math.hypot(s, t));
      }
      expect(furthest).toBeLessThan(1 - (2.5 * blur_px) / 40);
      expect(furthest).toBeGreaterThan(0.9 - (2.5 * blur_px) / 35);
    }
  });

  it('thins pixels far from the edges four to one and keeps all near them', () => {
    const blur_px = 0.8;
    const { count, x, y } = collectCrossingPixels(picture, frame, blur_px)!;
    const { a1, a2 } = frame;
    const determinant = Math.abs(a1.x * a2.y - a1.y * a2.x);
    const isFar = (k: number) =>
      Math.abs(a1.x * y[k] - a1.y * x[k]) / Math.hypot(a1.x, a1.y) > 6 * blur_px &&
      Math.abs(x[k] * a2.y - y[k] * a2.x) / Math.hypot(a2.x, a2.y) > 6 * blur_px;
    const far = Array.from({ length: count }, (_, k) => k).filter(isFar).length;
    // With the far ones counted four times the pixels fill the ellipse: pi |det| limit^2.
    const limit = 0.97 - (2.5 * blur_px * Math.hypot(40, 8)) / determinant;
    expect((count + 3 * far) / (Math.PI * determinant * limit * limit)).toBeCloseTo(1, 1);
    expect(far).toBeGreaterThan(100);
  });

  it('gives nothing for a crossing that is not wholly in the photograph', () => {
    for (const centre of [
      { x: 40, y: 60 },
      { x: 80, y: 60 },
      { x: 60, y: 38 },
      { x: 60, y: 81 },
      { x: Number.NaN, y: 60 },
    ]) {
      expect(collectCrossingPixels(picture, { ...frame, centre }, 1)).toBeUndefined();
    }
  });

  it('gives nothing for a crossing that its blur has eaten up', () => {
    expect(collectCrossingPixels(picture, frame, 10)).toBeDefined();
    expect(collectCrossingPixels(picture, frame, 12)).toBeUndefined();
  });
});

const inside = Array.from({ length: 20_001 }, (_, i) => (i / 20_000 - 0.5) * 2 * (EDGE_END - 1e-9));

describe('edgeProfile', () => {
  it('is the error function within 2e-6 up to its end', () => {
    expect(Math.max(...inside.map((z) => Math.abs(edgeProfile(z) - erf(z / Math.SQRT2))))).toBeLessThan(2e-6);
  });

  it('is within 7e-6 of it beyond', () => {
    for (let z = EDGE_END; z < 9; z += 0.01) {
      expect(Math.abs(edgeProfile(z) - erf(z / Math.SQRT2))).toBeLessThan(7e-6);
      expect(edgeProfile(-z)).toBe(-1);
    }
  });

  it('is odd, rises everywhere and passes through 0', () => {
    expect(edgeProfile(0)).toBe(0);
    expect(inside.every((z) => edgeProfile(-z) + edgeProfile(z) === 0)).toBe(true);
    expect(inside.every((z, i) => i === 0 || edgeProfile(z) > edgeProfile(inside[i - 1]))).toBe(true);
  });
});

describe('edgeSlope', () => {
  it('is the derivative of the error function within 2e-6', () => {
    const errors = inside.map((z) => Math.abs(edgeSlope(z) - Math.sqrt(2 / Math.PI) * Math.exp((-z * z) / 2)));
    expect(Math.max(...errors)).toBeLessThan(2e-6);
  });

  it('is nothing where the edge has ended, where it was below 4e-5', () => {
    expect(edgeSlope(EDGE_END)).toBe(0);
    expect(edgeSlope(-EDGE_END)).toBe(0);
    expect(edgeSlope(EDGE_END - 1e-6)).toBeLessThan(4e-5);
  });

  it('is the slope of the tabulated profile', () => {
    for (let z = -4; z <= 4; z += 0.37) {
      expect(edgeSlope(z)).toBeCloseTo((edgeProfile(z + 0.02) - edgeProfile(z - 0.02)) / 0.04, 3);
    }
  });
});

const size = { width: 400, height: 300 };
const cross = (a: Point, b: Point) => a.x * b.y - a.y * b.x;

describe('predictFrame', () => {
  it.each(['left', 'right'] as const)(
    '%s-eye mark: both edges have the crossing’s radius, at 45 degrees to the bright axis',
    (eye) => {
      const mark = markAtOrigin(eye, 0x1234);
      const { centre, a1, a2 } = predictFrame(
        viewOf({ ...size, photoFromChart: squareView(1000, { x: 200, y: 150 }) }),
        mark,
      );
      expect(centre).toEqual({ x: 200, y: 150 });
      for (const [edge, side] of [
        [a1, -45],
        [a2, 45],
      ] as const) {
        expect(Math.hypot(edge.x, edge.y)).toBeCloseTo(1000 * 0.045 * MARK_PROPORTIONS.crossing, 9);
        // Counter-clockwise as seen, although y of the photograph runs down.
        expect((Math.atan2(-edge.y, edge.x) * 180) / Math.PI).toBeCloseTo(BRIGHT_AXIS_DEG[eye] + side, 9);
      }
    },
  );

  it('is what the view shows of the mark’s edges, also obliquely and through a lens that bends', () => {
    const mark = { ...markAtOrigin('left', 0), x: 0.31, y: -0.22 };
    const view: View = {
      photoFromChart: obliqueView(900, { x: 190, y: 160 }, 40, 25, 10),
      lens: { centre: { x: 199.5, y: 149.5 }, radius_px: 250, k1: 0.05, k2: -0.02 },
    };
    const { centre, a1, a2 } = predictFrame(view, mark);
    expect(centre).toEqual(project(view, mark));
    const h = 1e-4;
    for (const [edge, angle_deg] of [
      [a1, BRIGHT_AXIS_DEG.left - 45],
      [a2, BRIGHT_AXIS_DEG.left + 45],
    ] as const) {
      const angle = (angle_deg * Math.PI) / 180;
      const step = { x: h * Math.cos(angle), y: h * Math.sin(angle) };
      const [to, from] = [1, -1].map((s) => project(view, { x: mark.x + s * step.x, y: mark.y + s * step.y }));
      const perRadius = (MARK_PROPORTIONS.crossing * mark.radius) / (2 * h);
      expect(edge.x).toBeCloseTo((to.x - from.x) * perRadius, 4);
      expect(edge.y).toBeCloseTo((to.y - from.y) * perRadius, 4);
    }
  });

  it('its edges run clockwise in photo coordinates, and the other way round in a mirrored view', () => {
    const straight = predictFrame(
      viewOf({ ...size, photoFromChart: [900, 0, 200, 0, -900, 150, 0, 0, 1] }),
      markAtOrigin('right', 0),
    );
    const turned = predictFrame(
      viewOf({ ...size, photoFromChart: [-900, 0, 200, 0, -900, 150, 0, 0, 1] }),
      markAtOrigin('right', 0),
    );
    expect(cross(straight.a1, straight.a2)).toBeLessThan(0);
    expect(cross(turned.a1, turned.a2)).toBeGreaterThan(0);
  });
});

describe('frameExtent', () => {
  it('holds the seen crossing exactly: the box of an ellipse with these half diameters', () => {
    const { a1, a2 } = { a1: { x: 20, y: -7 }, a2: { x: -5, y: -16 } };
    const { x, y } = frameExtent({ centre: { x: 0, y: 0 }, a1, a2 });
    const places = Array.from({ length: 3600 }, (_, i) => {
      const t = (i * Math.PI) / 1800;
      return { x: Math.cos(t) * a1.x + Math.sin(t) * a2.x, y: Math.cos(t) * a1.y + Math.sin(t) * a2.y };
    });
    expect(Math.max(...places.map((p) => p.x))).toBeCloseTo(x, 4);
    expect(Math.max(...places.map((p) => p.y))).toBeCloseTo(y, 4);
  });
});
