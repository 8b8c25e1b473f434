/** Why a photograph shows no target that can be read: too dark, burnt out, blurred, cut off, or simply not there. */
import { surveyExposure } from '../imaging/exposure.ts';
import { coarseLuminance } from '../imaging/luminance.ts';
import type { Pixels } from '../imaging/pixels.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { percentile } from '../kernel/statistics.ts';
import type { Sighting } from '../vision/sight-marks.ts';

export type AbsenceCode =
  | 'no-target'
  | 'too-few-marks'
  | 'inconsistent-marks'
  | 'underexposed'
  | 'overexposed'
  | 'blurred';

/** Brightest codes (8 bit, all but one in a thousand pixels lie below) that still count as black. */
const BLACK_CODE = 26;
const MOST_CLIPPED = 0.2;
/** Code words read without a single consistent picture: marks of another target, or of two. */
const STRANGE_WORDS = 12;
const FEWEST_NEEDED = 24;
/**
 * Steepest step between neighbouring coarse pixels (about a thousandth of the picture's width) as a part of the
 * brightness range; sharp pictures reach a third to a half, edges softer than some three coarse pixels stay below.
 */
const SOFT_STEP = 0.12;

export function explainAbsence(pixels: Pixels, sighting: Sighting, identified: number): Refusal<AbsenceCode> {
  const { code999, clippedFraction } = surveyExposure(pixels);
  if (identified > 0 && identified < STRANGE_WORDS && sighting.read < 4 * identified) {
    return refuse('too-few-marks', { found: identified, needed: FEWEST_NEEDED });
  }
  if (sighting.read >= STRANGE_WORDS) return refuse('inconsistent-marks', { read: sighting.read, identified });
  if (code999 < BLACK_CODE) return refuse('underexposed', { brightest_pct: (100 * code999) / 255 });
  if (clippedFraction > MOST_CLIPPED) return refuse('overexposed', { clipped_pct: 100 * clippedFraction });
  if (steepestStep(pixels) < SOFT_STEP) return refuse('blurred');
  return refuse('no-target', { crossings: sighting.saddles });
}

function steepestStep(pixels: Pixels): number {
  const factor = Math.max(1, Math.round(Math.max(pixels.width, pixels.height) / 1000));
  const { width, height, data } = coarseLuminance(pixels, factor);
  const steps: number[] = [];
  for (let y = 1; y < height - 1; y++) {
    let steepest = 0;
    for (let x = 1, i = y * width + 1; x < width - 1; x++, i++) {
      steepest = Math.max(steepest, Math.abs(data[i + 1] - data[i - 1]), Math.abs(data[i + width] - data[i - width]));
    }
    steps.push(steepest / 2);
  }
  const values = Array.from({ length: Math.floor(data.length / 7) }, (_, k) => data[7 * k]);
  const range = percentile(values, 99.9) - percentile(values, 50);
  return range > 0 ? percentile(steps, 95) / range : 0;
}
