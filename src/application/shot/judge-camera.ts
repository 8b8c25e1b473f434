/** Whether photographs were exposed alike, and whether the camera kept their tones straight: what comparisons of light rest on. */
import type { Measured } from '../../kernel/measured.ts';
import type { CameraFacts } from '../../photo/photo.ts';

/** From here on a bent tone curve is worth a note. */
const BENT_TONE = 0.05;

/** `undefined` where all were exposed alike, as far as the files say. */
export function compareExposures(cameras: readonly CameraFacts[]): 'exposure-differs' | 'exposure-unknown' | undefined {
  if (cameras.length < 2) return undefined;
  const exposures = cameras.map(({ exposureTime_s, fNumber, iso }) => [exposureTime_s, fNumber, iso]);
  if (exposures.some((facts) => facts.some((fact) => fact === undefined))) return 'exposure-unknown';
  return exposures.every((facts) => facts.join() === exposures[0].join()) ? undefined : 'exposure-differs';
}

/** Time times ISO over the square of the f-number; `undefined` where the file does not tell one of them. */
export function exposureOf({ exposureTime_s, fNumber, iso }: CameraFacts): number | undefined {
  if (exposureTime_s === undefined || fNumber === undefined || iso === undefined) return undefined;
  return (exposureTime_s * iso) / fNumber ** 2;
}

/** `tones`: the exponents of the tone curves, null where one could not be measured. */
export function judgeTones(tones: readonly (Measured | null)[]): 'tone-curve-bent' | 'tone-curve-unknown' | undefined {
  if (tones.some((tone) => tone === null)) return 'tone-curve-unknown';
  return tones.some((tone) => Math.abs(tone!.value - 1) > Math.max(BENT_TONE, 2 * tone!.u))
    ? 'tone-curve-bent'
    : undefined;
}
