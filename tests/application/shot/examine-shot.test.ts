import { beforeAll, describe, expect, it } from 'vitest';
import { type ExaminedShot, examineShot, seenMarks } from '../../../src/application/shot/examine-shot.ts';
import type { Pixels } from '../../../src/imaging/pixels.ts';
import { transfer } from '../../../src/kernel/homography.ts';
import { project } from '../../../src/kernel/view.ts';
import { loadOpenCv, type OpenCv } from '../../../src/vision/opencv/load-opencv.ts';
import { CHART, PHOTO, PHOTO_FROM_CHART } from '../../vision/photograph-chart.ts';
import { pixelsOf } from '../../vision/photograph-marks.ts';
import { lightOfChart, photographChart } from '../photograph-chart.ts';

let cv: OpenCv;
beforeAll(async () => {
  ({ cv } = await loadOpenCv());
});

function examined(pixels: Pixels): ExaminedShot {
  const result = examineShot(cv, pixels, CHART);
  if (result.outcome === 'refused') throw new Error(`${result.code} ${JSON.stringify(result.facts)}`);
  return result;
}

const countOf = (eye: 'left' | 'right') => CHART.marks.filter((mark) => mark.eye === eye).length;
const grey = (light: ArrayLike<number>, width = PHOTO.width, height = PHOTO.height) =>
  pixelsOf(light, width, height, 8);

describe('examineShot', () => {
  it('finds the picture that a good photograph shows, and leaves the leak for later', () => {
    const shot = examined(photographChart({ left: 0.5, right: 0.003, seed: 1 }));
    expect(shot.fit.eyes).toEqual(['left']);
    expect(shot.marks.left).toHaveLength(countOf('left'));
    expect(shot.marks.right).toEqual([]);
    expect(shot.blur_px).toBeGreaterThan(0.95);
    expect(shot.blur_px).toBeLessThan(1.15);
    for (const at of [
      { x: 0, y: 0 },
      { x: 1.1, y: 0.45 },
    ]) {
      const [seen, truth] = [project(shot.fit.views.left!, at), transfer(PHOTO_FROM_CHART, at)];
      expect(Math.hypot(seen.x - truth.x, seen.y - truth.y)).toBeLessThan(0.05);
    }
  });

  it('finds both pictures where both are strong', () => {
    const shot = examined(photographChart({ left: 0.3, right: 0.25, seed: 2 }));
    expect(shot.fit.eyes).toEqual(['left', 'right']);
    expect(shot.marks.left).toHaveLength(countOf('left'));
    expect(shot.marks.right).toHaveLength(countOf('right'));
  });

  it('hands its marks to a fit in the order of the eyes', () => {
    const shot = examined(photographChart({ left: 0.3, right: 0.25, seed: 2 }));
    const seen = seenMarks(shot.marks);
    expect(seen).toHaveLength(countOf('left') + countOf('right'));
    expect(seen.map(({ eye }) => eye)).toEqual([...shot.marks.left, ...shot.marks.right].map(({ mark }) => mark.eye));
    expect(seen[0]).toMatchObject({ seen: shot.marks.left[0].centre, covariance: shot.marks.left[0].covariance });
  });
});

describe('examineShot refuses', () => {
  const good = lightOfChart({ left: 0.5, right: 0.003, seed: 0 });

  it('a mirrored photograph', () => {
    const reversed = good.map((_, i) => good[i - (i % PHOTO.width) + PHOTO.width - 1 - (i % PHOTO.width)]);
    expect(examineShot(cv, grey(reversed), CHART)).toMatchObject({ code: 'mirrored' });
  });

  it('an upside-down photograph, and says how it is turned', () => {
    const result = examineShot(cv, grey(good.map((_, i) => good[good.length - 1 - i])), CHART);
    expect(result).toMatchObject({ outcome: 'refused', code: 'upside-down' });
    if (result.outcome === 'refused') expect(Math.abs(Number(result.facts.roll_deg))).toBeGreaterThan(170);
  });

  it('a black photograph as too dark', () => {
    expect(examineShot(cv, grey(new Float64Array(600 * 400).fill(0.001), 600, 400), CHART)).toMatchObject({
      code: 'underexposed',
    });
  });

  it('a white photograph as too bright', () => {
    expect(examineShot(cv, grey(new Float64Array(600 * 400).fill(1), 600, 400), CHART)).toMatchObject({
      code: 'overexposed',
    });
  });

  it('marks burnt out three times over as too bright', () => {
    const burnt = grey(lightOfChart({ left: 3, right: 0.003, seed: 0 }));
    expect(examineShot(cv, burnt, CHART)).toMatchObject({ outcome: 'refused', code: 'overexposed' });
  });

  it('burnt-out marks as too bright', () => {
    const burnt = grey(lightOfChart({ left: 1.4, right: 0.003, seed: 0 }));
    const result = examineShot(cv, burnt, CHART);
    expect(result).toMatchObject({ outcome: 'refused', code: 'overexposed' });
    if (result.outcome === 'refused') expect(Number(result.facts.clipped_pct)).toBeGreaterThan(25);
  });

  it('a photograph with edges but no target', () => {
    const stripes = Float64Array.from({ length: 900 * 600 }, (_, i) => (Math.floor((i % 900) / 40) % 2 ? 0.4 : 0.02));
    expect(examineShot(cv, grey(stripes, 900, 600), CHART)).toMatchObject({ code: 'no-target' });
  });

  it('a picture of which most is out of sight', () => {
    const half = good.map((v, i) => (i % PHOTO.width < 0.62 * PHOTO.width ? 0.004 : v));
    expect(examineShot(cv, grey(half), CHART)).toMatchObject({ outcome: 'refused', code: 'too-few-marks' });
  });

  it('a picture too blurred', () => {
    for (const blur_px of [4, 12]) {
      const soft = examineShot(cv, grey(lightOfChart({ left: 0.5, right: 0, blur_px, seed: 0 })), CHART);
      expect(soft, `${blur_px} px`).toMatchObject({ outcome: 'refused', code: 'blurred' });
    }
  });
});
