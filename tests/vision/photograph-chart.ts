/** Small photographs of the whole chart, one eye's marks each, drawn once for all tests of a file. */
import type { Homography } from '../../src/kernel/homography.ts';
import type { Eye } from '../../src/kernel/eye.ts';
import { layoutChart } from '../../src/target/chart.ts';
import { lightOfMarks } from './photograph-marks.ts';

export const CHART = layoutChart();
export const PHOTO = { width: 1500, height: 700 };
/** 600 px to the picture height, a little turned and from one side. */
export const PHOTO_FROM_CHART: Homography = [598, 12, 748, 9, -601, 352, 0.02, -0.015, 1];
export const BLUR_PX = 1;

/** Coverage 0 to 1 by one eye's marks, blurred; nothing else is drawn. */
export function coverageOf(eye: Eye, photoFromChart: Homography = PHOTO_FROM_CHART, blur_px = BLUR_PX): Float64Array {
  const marks = CHART.marks.filter((mark) => mark.eye === eye);
  return lightOfMarks(marks, { ...PHOTO, photoFromChart, blur_px, dark: 0, contrast: 1, fineness: 2 });
}

export function moved(h: Homography, dx: number, dy: number): Homography {
  const [a, b, c, d, e, f, g, i, j] = h;
  return [a + dx * g, b + dx * i, c + dx * j, d + dy * g, e + dy * i, f + dy * j, g, i, j];
}
