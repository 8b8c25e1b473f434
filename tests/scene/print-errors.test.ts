import { describe, expect, it } from 'vitest';
import { placeCamera } from '../../src/scene/place-camera.ts';
import { misprint, type PrintErrors } from '../../src/scene/print-errors.ts';
import { MERIDIAN_SCENE, plainShot } from '../../src/scene/scene.ts';
import { sceneMisalignmentTruth } from '../../src/scene/truth.ts';
import { layoutChart } from '../../src/target/chart.ts';
import type { Shape } from '../../src/target/shapes.ts';

const none: PrintErrors = { seed: 3, mark_ih: 0, smooth_ih: 0, smoothLength_ih: 0.3, eyeAgainstEye_ih: { x: 0, y: 0 } };
const { marks } = layoutChart();
/** Each mark as two points. */
const shapes: Shape[] = marks.map(({ id, x, y }) => ({
  part: id,
  level: 1,
  contours: [
    [
      { x, y },
      { x: x + 0.01, y },
    ],
  ],
}));
const shiftsOf = (errors: PrintErrors, eye: 'left' | 'right' = 'left') =>
  misprint(shapes, eye, errors).map(({ contours }, i) => {
    const [a, b] = contours[0] as readonly { x: number; y: number }[];
    return { x: a!.x - marks[i]!.x, y: a!.y - marks[i]!.y, width: b!.x - a!.x, at: marks[i]! };
  });
const rms = (values: readonly number[]) => Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);

describe('misprint', () => {
  it('moves each mark as a whole, as far as it was told, apart from its neighbours', () => {
    const shifts = shiftsOf({ ...none, mark_ih: 5e-5 });
    expect(rms(shifts.flatMap(({ x, y }) => [x, y])) / 5e-5).toBeCloseTo(1, 0.7);
    for (const { width } of shifts) expect(width).toBeCloseTo(0.01, 12);
    const neighbours = shifts.slice(1).reduce((sum, { x }, i) => sum + x * shifts[i]!.x, 0) / shifts.length / 25e-10;
    expect(Math.abs(neighbours)).toBeLessThan(0.35);
  });
  it('smooth errors are shared by neighbours', () => {
    const shifts = shiftsOf({ ...none, smooth_ih: 5e-5 });
    const near: number[] = [];
    for (const a of shifts) {
      for (const b of shifts) {
        const apart = Math.hypot(a.at.x - b.at.x, a.at.y - b.at.y);
        if (apart > 0 && apart < 0.17) near.push(Math.hypot(a.x - b.x, a.y - b.y));
      }
    }
    expect(rms(near)).toBeLessThan(0.7 * 5e-5 * Math.SQRT2);
    expect(rms(shifts.flatMap(({ x, y }) => [x, y]))).toBeGreaterThan(2e-5);
  });
  it('one picture against the other: right minus left', () => {
    const errors = { ...none, eyeAgainstEye_ih: { x: 1e-4, y: -2e-4 } };
    const [left, right] = [shiftsOf(errors, 'left')[0]!, shiftsOf(errors, 'right')[0]!];
    expect(right.x - left.x).toBeCloseTo(1e-4, 12);
    expect(right.y - left.y).toBeCloseTo(-2e-4, 12);
  });
  it('is none of the projection: the truth stays', () => {
    const shot = plainShot(
      'bare',
      placeCamera({ width_px: 900, height_px: 600, distance_ih: 3, azimuth_deg: 0, elevation_deg: 0 }),
    );
    const print = { ...none, mark_ih: 1e-3, eyeAgainstEye_ih: { x: 0.01, y: 0.01 } };
    expect(sceneMisalignmentTruth({ ...MERIDIAN_SCENE, print }, shot).terms.verticalOffset).toBeCloseTo(0, 12);
  });
});
