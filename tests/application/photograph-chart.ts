/** Shots of the chart for the tests of examining and comparing: both eyes' marks at given strengths, small and quick. */
import type { Pixels } from '../../src/imaging/pixels.ts';
import { renderedBytes } from '../rendered.ts';
import { coverageOf, moved, PHOTO, PHOTO_FROM_CHART } from '../vision/photograph-chart.ts';
import { addNoise, pixelsOf } from '../vision/photograph-marks.ts';

export interface Exposure {
  /** Bright minus dark of each eye's marks, linear light. */
  readonly left: number;
  readonly right: number;
  readonly dark?: number;
  /** The camera's movement since the first shot, photo px. */
  readonly moved_px?: readonly [number, number];
  readonly blur_px?: number;
  readonly seed: number;
}

const drawn = new Map<string, Float64Array>();

function coverage(eye: 'left' | 'right', [dx, dy]: readonly [number, number], blur_px: number): Float64Array {
  const key = `${eye} ${dx} ${dy} ${blur_px}`;
  const known = drawn.get(key) ?? coverageOf(eye, moved(PHOTO_FROM_CHART, dx, dy), blur_px);
  drawn.set(key, known);
  return known;
}

export function lightOfChart({ left, right, dark = 0.004, moved_px = [0, 0], blur_px = 1 }: Exposure): Float64Array {
  const [l, r] = [coverage('left', moved_px, blur_px), coverage('right', moved_px, blur_px)];
  return l.map((c, i) => dark + left * c + right * r[i]);
}

/** Eight bits, with the noise of a camera. */
export function photographChart(exposure: Exposure): Pixels {
  const data = renderedBytes(['chart', exposure], () => {
    const light = addNoise(lightOfChart(exposure), { floor: 0.0008, photon: 3e-5 }, exposure.seed);
    return pixelsOf(light, PHOTO.width, PHOTO.height, 8).data as Uint8Array;
  });
  return { width: PHOTO.width, height: PHOTO.height, channels: 1, data };
}
