/**
 * Centres of single crossings against crops whose truth and whose measurement by others (OpenCV's cornerSubPix, a plain
 * saddle fit) were made by tests/reference/render_crossings.py, which shares no code with the fit.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Pixels } from '../../src/imaging/pixels.ts';
import type { Homography } from '../../src/kernel/homography.ts';
import type { Point } from '../../src/kernel/point.ts';
import { plainLens } from '../../src/kernel/view.ts';
import { readPhoto } from '../../src/photo/read-photo.ts';
import { layoutChart } from '../../src/target/chart.ts';
import { collectCrossingPixels, predictFrame } from '../../src/vision/crossing-pixels.ts';
import { type FittedCrossing, fitCrossing } from '../../src/vision/fit-crossing.ts';
import { TYPICAL_BLUR_PX } from '../../src/vision/measure-marks.ts';

type Pair = readonly [number, number];

interface Crossing {
  readonly row: number;
  readonly column: number;
  readonly mark: string;
  readonly photo_from_chart: Homography;
  readonly centre_px: Pair;
  readonly start_px: Pair;
  readonly opencv_px: Readonly<Record<'6' | '8' | '10', Pair>>;
  readonly saddle_px: Pair;
}

interface Golden {
  readonly side_px: number;
  readonly crossings: readonly Crossing[];
}

const pathOf = (name: string) => fileURLToPath(new URL(`../reference/golden/${name}`, import.meta.url));
const golden = JSON.parse(readFileSync(pathOf('crossings.json'), 'utf8')) as Golden;
const chart = layoutChart();

interface Fitted {
  readonly crossing: Crossing;
  readonly centre: Point;
  readonly fit: FittedCrossing;
}

function cutOut(sheet: Pixels, { row, column }: Crossing): Pixels {
  const side = golden.side_px;
  const { channels } = sheet;
  const data = new Uint8Array(side * side * channels);
  for (let y = 0; y < side; y++) {
    const from = ((row * side + y) * sheet.width + column * side) * channels;
    data.set(sheet.data.subarray(from, from + side * channels), y * side * channels);
  }
  return { width: side, height: side, channels, data };
}

/** Fits from the start that the others had too; the blur is not told. */
function fitCentre(crop: Pixels, crossing: Crossing): Fitted {
  const mark = chart.marks.find(({ id }) => id === crossing.mark)!;
  const view = { photoFromChart: crossing.photo_from_chart, lens: plainLens(crop.width, crop.height) };
  const frame = { ...predictFrame(view, mark), centre: { x: crossing.start_px[0], y: crossing.start_px[1] } };
  const pixels = collectCrossingPixels(crop, frame, TYPICAL_BLUR_PX);
  const fit = pixels && fitCrossing(pixels, frame, TYPICAL_BLUR_PX, 5);
  if (!fit)
    throw new Error(
      `the fit of ${crossing.mark} did not settle ${pixels?.count} ${JSON.stringify(frame)} ${JSON.stringify(crossing)}`,
    );
  return { crossing, fit, centre: { x: frame.centre.x + fit.shift.x, y: frame.centre.y + fit.shift.y } };
}

function errorsOf(places: readonly (readonly [Pair, Pair])[]): { rms: number; mean: Point; largest: number } {
  const dx = places.map(([a, b]) => a[0] - b[0]);
  const dy = places.map(([a, b]) => a[1] - b[1]);
  const all = [...dx, ...dy];
  const mean = (values: number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;
  return {
    rms: Math.sqrt(mean(all.map((v) => v * v))),
    mean: { x: mean(dx), y: mean(dy) },
    largest: Math.max(...all.map(Math.abs)),
  };
}

describe('centres of crossings, against an independent renderer and OpenCV', () => {
  let fitted: Fitted[] = [];
  const ours = (f: Fitted): Pair => [f.centre.x, f.centre.y];

  beforeAll(async () => {
    const sheet = await readPhoto(pathOf('crossings.png'));
    if (sheet.outcome !== 'read') throw new Error('crossings.png cannot be read');
    fitted = golden.crossings.map((crossing) => fitCentre(cutOut(sheet.photo.pixels, crossing), crossing));
  });

  it('are true to a few thousandths of a pixel', () => {
    const error = errorsOf(fitted.map((f) => [ours(f), f.crossing.centre_px]));
    expect(fitted).toHaveLength(24);
    expect(error.rms).toBeLessThan(0.003);
    expect(error.largest).toBeLessThan(0.008);
    expect(Math.hypot(error.mean.x, error.mean.y)).toBeLessThan(0.0015);
  });

  it('err by what their covariances say', () => {
    const z = fitted.flatMap(({ centre, fit, crossing }) => [
      (centre.x - crossing.centre_px[0]) / Math.sqrt(fit.covariance[0]),
      (centre.y - crossing.centre_px[1]) / Math.sqrt(fit.covariance[2]),
    ]);
    const rms = Math.sqrt(z.reduce((sum, v) => sum + v * v, 0) / z.length);
    expect(rms).toBeGreaterThan(0.6);
    expect(rms).toBeLessThan(1.3);
    expect(Math.max(...z.map(Math.abs))).toBeLessThan(3.5);
  });

  // OpenCV's own errors are 0.015 to 0.02 px here, so it can vouch for no more than that, and for the pixel frame.
  it.each(['6', '8', '10'] as const)('agree with cornerSubPix, half window %s, as well as that finds them', (half) => {
    const theirs = (f: Fitted) => f.crossing.opencv_px[half];
    const difference = errorsOf(fitted.map((f) => [ours(f), theirs(f)]));
    expect(difference.rms).toBeLessThan(0.03);
    expect(difference.largest).toBeLessThan(0.09);
    expect(Math.hypot(difference.mean.x, difference.mean.y)).toBeLessThan(0.01);
    const theirError = errorsOf(fitted.map((f) => [theirs(f), f.crossing.centre_px]));
    const ourError = errorsOf(fitted.map((f) => [ours(f), f.crossing.centre_px]));
    expect(theirError.rms).toBeGreaterThan(5 * ourError.rms);
  });

  it('agree with a plain saddle fit as well as that finds them', () => {
    const difference = errorsOf(fitted.map((f) => [ours(f), f.crossing.saddle_px]));
    expect(difference.rms).toBeLessThan(0.06);
    expect(Math.hypot(difference.mean.x, difference.mean.y)).toBeLessThan(0.015);
  });
});
