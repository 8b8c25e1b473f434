/** Examines a photograph's pixels: a quick look first, a thorough one only where that finds too little. */
import type { Pixels } from '../../imaging/pixels.ts';
import type { Chart } from '../../target/chart.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import { examineShot } from './examine-shot.ts';

export type Look = ReturnType<typeof examineShot>;

export function examineQuickly(pixels: Pixels, chart: Chart): Look {
  return examineShot(undefined, pixels, chart);
}

/** What the quick look refuses is looked at with a library that takes longer to load than to work. */
export async function examineThoroughly(
  pixels: Pixels,
  chart: Chart,
  quick = examineQuickly(pixels, chart),
): Promise<Look> {
  if (quick.outcome === 'examined') return quick;
  const { cv } = await loadOpenCv();
  return examineShot(cv, pixels, chart);
}
