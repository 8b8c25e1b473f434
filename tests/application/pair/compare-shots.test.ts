import { beforeAll, describe, expect, it } from 'vitest';
import {
  compareShots,
  type ComparedShots,
  type ComparisonRefusal,
} from '../../../src/application/pair/compare-shots.ts';
import { examineShot } from '../../../src/application/shot/examine-shot.ts';
import type { Point } from '../../../src/kernel/point.ts';
import { loadOpenCv, type OpenCv } from '../../../src/vision/opencv/load-opencv.ts';
import { CHART } from '../../vision/photograph-chart.ts';
import { type Exposure, photographChart } from '../photograph-chart.ts';

let cv: OpenCv;
beforeAll(async () => {
  ({ cv } = await loadOpenCv());
});

function compare(left: Exposure, right: Exposure, wander_px?: Point): ComparedShots | ComparisonRefusal {
  const [l, r] = [left, right].map((exposure) => {
    const shot = examineShot(cv, photographChart(exposure), CHART);
    if (shot.outcome === 'refused') throw new Error(shot.code);
    return shot;
  });
  return compareShots({ left: l, right: r }, CHART, { wander_px });
}

function compared(left: Exposure, right: Exposure): ComparedShots {
  const result = compare(left, right);
  if (result.outcome === 'refused') throw new Error(`${result.code} ${JSON.stringify(result.facts)}`);
  return result;
}

const throughLeft = (leak: number, more: Partial<Exposure> = {}): Exposure => ({
  left: 0.5,
  right: 0.5 * leak,
  seed: 1,
  ...more,
});
const throughRight = (leak: number, more: Partial<Exposure> = {}): Exposure => ({
  left: 0.5 * leak,
  right: 0.5,
  seed: 2,
  ...more,
});

describe('compareShots', () => {
  it.each([
    { left: 0.02, right: 0.01 },
    { left: 0.07, right: 0.005 },
    { left: 0.3, right: 0.2 },
  ])('measures leaks of $left and $right, whether found by themselves or where they should be', ({ left, right }) => {
    const { eyes } = compared(throughLeft(left), throughRight(right));
    expect(eyes.assignment).toBe('correct');
    expect(Math.abs(eyes.crosstalkLeft.value - left)).toBeLessThan(0.05 * left + 0.0005);
    expect(Math.abs(eyes.crosstalkRight.value - right)).toBeLessThan(0.05 * right + 0.0005);
    expect(Math.abs(eyes.crosstalkLeft.value - left) / eyes.crosstalkLeft.u).toBeLessThan(4);
    expect(Math.abs(eyes.crosstalkRight.value - right) / eyes.crosstalkRight.u).toBeLessThan(4);
  });

  it('gives the strengths of both pictures through both lenses, the leak over the picture, and their class', () => {
    const { matrix } = compared(throughLeft(0.04), throughRight(0.005));
    expect(matrix.class).toBe('one-sided-leak');
    expect(matrix.strengths.left.right.value / matrix.strengths.left.left.value).toBeCloseTo(0.04, 2);
    expect(matrix.strengths.left.left.value).toBeCloseTo(1, 1);
    for (const cell of matrix.maps.left) expect(Math.abs(cell!.value - 0.04)).toBeLessThan(5 * cell!.u);
    expect(compared(throughLeft(0.002), throughRight(0.003)).matrix.class).toBe('separated');
  });

  it('knows exchanged eyes and missing polarizers', () => {
    expect(compared({ left: 0.01, right: 0.5, seed: 3 }, { left: 0.5, right: 0.01, seed: 4 }).eyes.assignment).toBe(
      'swapped',
    );
    expect(compared({ left: 0.4, right: 0.4, seed: 3 }, { left: 0.4, right: 0.4, seed: 4 }).eyes.assignment).toBe(
      'undetermined',
    );
  });

  it('refuses one eye’s picture in both', () => {
    const result = compare(throughLeft(0.01), throughLeft(0.012, { seed: 9 }));
    expect(result).toMatchObject({ outcome: 'refused', code: 'same-eye-twice', facts: { eye: 'left' } });
    expect(compare(throughRight(0.01), throughRight(0.012, { seed: 9 }))).toMatchObject({ facts: { eye: 'right' } });
  });

  it('tells from the leaks that the camera kept still, to a part of a pixel', () => {
    const { steadiness, movement_ih } = compared(throughLeft(0.03), throughRight(0.03));
    expect(steadiness!.chance).toBeGreaterThan(1e-6);
    expect(steadiness!.movement_px.value).toBeLessThan(0.15);
    expect(movement_ih).toBe(0);
  });

  it('follows film that moved by a pixel: the movement is found, and the ghosts are measured where they stand', () => {
    const moved = compared(throughLeft(0.04), throughRight(0.04, { moved_px: [0.6, -0.8] }));
    expect(Math.abs(moved.steadiness!.movement_px.value - 1)).toBeLessThan(0.1);
    const still = compared(throughLeft(0.04), throughRight(0.04));
    expect(Math.abs(moved.eyes.crosstalkLeft.value - still.eyes.crosstalkLeft.value)).toBeLessThan(0.002);
    expect(Math.abs(moved.eyes.crosstalkRight.value - still.eyes.crosstalkRight.value)).toBeLessThan(0.002);
  });

  it('says that something moved where it is certain, however little', () => {
    const result = compared(throughLeft(0.2), throughRight(0.2, { moved_px: [0.08, 0] }));
    expect(result.steadiness!.chance).toBeLessThan(1e-6);
    expect(result.movement_ih).toBeGreaterThan(0.04 / 600);
    expect(result.movement_ih).toBeLessThan(2e-4);
  });

  it('refuses more than film and glasses can do, but not where the frames wandered as far', () => {
    const [left, right] = [throughLeft(0.2), throughRight(0.2, { moved_px: [10.8, -8.1] })];
    const result = compare(left, right);
    expect(result).toMatchObject({ outcome: 'refused', code: 'camera-moved' });
    if (result.outcome === 'refused') {
      expect(Number(result.facts.moved_px)).toBeCloseTo(13.5, 0);
      expect(Number(result.facts.limit_px)).toBeCloseTo(0.0206 * 600, 0);
    }
    const woven = compare(left, right, { x: 8, y: 8 });
    expect(woven).toMatchObject({ outcome: 'compared' });
    // What was seen to be apart is kept in mind, whatever moved it.
    if (woven.outcome === 'compared') expect(woven.movement_ih).toBeGreaterThan(12 / 600);
    expect(compare(left, right, { x: 0.02, y: 0.02 })).toMatchObject({ code: 'camera-moved' });
  });

  it('follows a wedge of 5 px', () => {
    const moved = compared(throughLeft(0.04), throughRight(0.04, { moved_px: [4, -3] }));
    expect(Math.abs(moved.steadiness!.movement_px.value - 5)).toBeLessThan(0.15);
  });

  it('refuses a camera that moved so far that no leak is in its place any more', () => {
    const result = compare(throughLeft(0.02), throughRight(0.02, { moved_px: [12, -9] }));
    expect(result).toMatchObject({ outcome: 'refused', code: 'camera-moved' });
  });

  it('cannot tell without any leak', () => {
    const { steadiness, eyes } = compared(throughLeft(0), throughRight(0));
    expect(steadiness).toBeUndefined();
    expect(Math.abs(eyes.crosstalkLeft.value)).toBeLessThan(0.002);
  });
});
