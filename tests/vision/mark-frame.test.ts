import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/kernel/point.ts';
import { project, type View } from '../../src/kernel/view.ts';
import { BRIGHT_AXIS_DEG, MARK_PROPORTIONS } from '../../src/target/chart.ts';
import { frameExtent, predictFrame } from '../../src/vision/mark-frame.ts';
import { markAtOrigin, obliqueView, squareView, viewOf } from './photograph-marks.ts';

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
