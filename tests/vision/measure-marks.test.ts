import { describe, expect, it } from 'vitest';
import { transfer } from '../../src/kernel/homography.ts';
import { mean, median } from '../../src/kernel/statistics.ts';
import { type MeasuredMark, measureMarks, TYPICAL_BLUR_PX } from '../../src/vision/measure-marks.ts';
import type { Pixels } from '../../src/imaging/pixels.ts';
import { BLUR_PX, CHART, coverageOf, moved, PHOTO, PHOTO_FROM_CHART } from './photograph-chart.ts';
import { addNoise, pixelsOf, viewOf } from './photograph-marks.ts';

const left = coverageOf('left');
const leftMarks = CHART.marks.filter((mark) => mark.eye === 'left');
const rightMarks = CHART.marks.filter((mark) => mark.eye === 'right');
const pixelsFrom = (light: ArrayLike<number>, bits: 8 | 16 = 16) => pixelsOf(light, PHOTO.width, PHOTO.height, bits);
const view = viewOf({ ...PHOTO, photoFromChart: PHOTO_FROM_CHART });
const light = left.map((c) => 0.01 + 0.5 * c);

function measure(pixels: Pixels, from = view, marks = leftMarks): MeasuredMark[] {
  return measureMarks(pixels, marks, from, TYPICAL_BLUR_PX);
}

describe('measureMarks', () => {
  it('measures every mark of the eye, in the given order, in its place', () => {
    const measured = measure(pixelsFrom(light), view);
    expect(measured.map(({ mark }) => mark.id)).toEqual(leftMarks.map(({ id }) => id));
    for (const { mark, centre, contrast, dark, blur_px, clipped } of measured) {
      const expected = transfer(PHOTO_FROM_CHART, mark);
      expect(Math.hypot(centre.x - expected.x, centre.y - expected.y)).toBeLessThan(0.003);
      expect(contrast).toBeCloseTo(0.5, 2);
      expect(Math.abs(dark - 0.01)).toBeLessThan(0.003 * contrast);
      expect(blur_px).toBeCloseTo(Math.hypot(BLUR_PX, Math.sqrt(1 / 12)), 1);
      expect(clipped).toBe(false);
    }
  });

  it('from a view that is three pixels off gives the same centres', () => {
    const off = viewOf({ ...PHOTO, photoFromChart: moved(PHOTO_FROM_CHART, 2.4, -1.8) });
    const there = measure(pixelsFrom(light), view);
    const again = measure(pixelsFrom(light), off);
    // The smallest crossings reach 8.8 px; three pixels are more than their reach.
    const known = new Map(there.map(({ mark, centre }) => [mark.id, centre]));
    const inner = again.filter(({ mark }) => mark.kind === 'inner');
    expect(inner).toHaveLength(leftMarks.filter(({ kind }) => kind === 'inner').length);
    for (const { mark, centre } of inner) {
      const expected = known.get(mark.id)!;
      expect(Math.hypot(centre.x - expected.x, centre.y - expected.y)).toBeLessThan(0.003);
    }
  });

  it('finds nothing where the other eye’s picture stands', () => {
    expect(measure(pixelsFrom(light), view, rightMarks)).toEqual([]);
  });

  it('leaves out marks that are hidden, and no others', () => {
    const hidden = leftMarks[20];
    const at = transfer(PHOTO_FROM_CHART, hidden);
    const covered = light.map((v, i) =>
      Math.hypot((i % PHOTO.width) - at.x, Math.floor(i / PHOTO.width) - at.y) < 30 ? 0.004 : v,
    );
    const measured = measure(pixelsFrom(covered), view);
    expect(measured.map(({ mark }) => mark.id)).toEqual(leftMarks.filter((m) => m !== hidden).map(({ id }) => id));
  });

  it('leaves out a mark that is half hidden', () => {
    const hidden = leftMarks[20];
    const at = transfer(PHOTO_FROM_CHART, hidden);
    const covered = light.map((v, i) =>
      (i % PHOTO.width) - at.x < 2 && Math.hypot((i % PHOTO.width) - at.x, Math.floor(i / PHOTO.width) - at.y) < 30
        ? 0.004
        : v,
    );
    const measured = measure(pixelsFrom(covered), view);
    expect(measured.map(({ mark }) => mark.id)).not.toContain(hidden.id);
    expect(measured).toHaveLength(leftMarks.length - 1);
  });

  it('leaves out a mark that is far fainter than its fellows', () => {
    const faint = leftMarks[11];
    const at = transfer(PHOTO_FROM_CHART, faint);
    const dimmed = left.map((c, i) => {
      const near = Math.hypot((i % PHOTO.width) - at.x, Math.floor(i / PHOTO.width) - at.y) < 30;
      return 0.01 + (near ? 0.02 : 0.5) * c;
    });
    expect(measure(pixelsFrom(dimmed), view).map(({ mark }) => mark.id)).not.toContain(faint.id);
  });

  it('says which marks are burnt out', () => {
    const burnt = leftMarks[5];
    const at = transfer(PHOTO_FROM_CHART, burnt);
    const lit = left.map((c, i) => {
      const near = Math.hypot((i % PHOTO.width) - at.x, Math.floor(i / PHOTO.width) - at.y) < 30;
      return 0.01 + (near ? 1.2 : 0.5) * c;
    });
    const measured = measure(pixelsFrom(lit, 8), view);
    expect(measured.filter(({ clipped }) => clipped).map(({ mark }) => mark.id)).toEqual([burnt.id]);
  });

  it('leaves out marks that are not wholly in the photograph', () => {
    const away = moved(PHOTO_FROM_CHART, -90, 0);
    const coverage = coverageOf('left', away);
    const measured = measure(
      pixelsFrom(coverage.map((c) => 0.01 + 0.5 * c)),
      viewOf({ ...PHOTO, photoFromChart: away }),
    );
    const inside = leftMarks.filter((mark) => transfer(away, mark).x > 18);
    expect(measured.length).toBeLessThan(leftMarks.length);
    expect(measured.map(({ mark }) => mark.id)).toEqual(
      inside.filter(({ id }) => measured.some(({ mark }) => mark.id === id)).map(({ id }) => id),
    );
    expect(measured.every(({ mark }) => transfer(away, mark).x > 0)).toBe(true);
  });

  it('errors of all marks under noise are as large as their covariances say', () => {
    const measured = measure(
      pixelsFrom(
        addNoise(
          left.map((c) => 0.05 + 0.5 * c),
          { floor: 0.004, photon: 2e-4 },
          8,
        ),
        8,
      ),
      view,
    );
    expect(measured).toHaveLength(leftMarks.length);
    const squares = measured.map(({ mark, centre, covariance: [xx, xy, yy] }) => {
      const expected = transfer(PHOTO_FROM_CHART, mark);
      const [ex, ey] = [centre.x - expected.x, centre.y - expected.y];
      return (yy * ex * ex - 2 * xy * ex * ey + xx * ey * ey) / (xx * yy - xy * xy);
    });
    // Mean 2 with a variance of 4 / n; four deviations, and 12 % for covariances that are a little too large.
    const reach = (4 * 2) / Math.sqrt(squares.length);
    expect(mean(squares)).toBeLessThan(2 + reach);
    expect(mean(squares)).toBeGreaterThan((2 - reach) / 1.12);
    expect(median(measured.map(({ covariance }) => Math.sqrt(covariance[0])))).toBeLessThan(0.02);
  });
});
