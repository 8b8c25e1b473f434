/** Why a photograph shows no target that can be measured: too dark, burnt out, blurred, cut off, or simply not there. */
import { findConsensus } from '../../geometry/find-consensus.ts';
import { surveyExposure } from '../../imaging/exposure.ts';
import { coarseLuminance } from '../../imaging/luminance.ts';
import type { Pixels } from '../../imaging/pixels.ts';
import { EYES } from '../../kernel/eye.ts';
import { type Homography, transfer } from '../../kernel/homography.ts';
import type { Point } from '../../kernel/point.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { percentile } from '../../kernel/statistics.ts';
import type { IdentifiedMark, MarkDetection } from '../../vision/detect-marks.ts';
import { judgeView, type PoseCode } from './judge-pose.ts';

export type AbsenceCode =
  | PoseCode
  | 'no-target'
  | 'too-few-marks'
  | 'inconsistent-marks'
  | 'underexposed'
  | 'overexposed'
  | 'blurred';

/** Brightest codes (8 bit, all but one in a thousand pixels lie below) that still count as black. */
const BLACK_CODE = 26;
/** Burnt out as a whole: a lit picture with a few clipped marks stays far below. */
const MAX_CLIPPED = 0.2;
/**
 * Steepest step between neighbouring coarse pixels (about a thousandth of the photograph's width) as a part of the
 * brightness range. Targets in focus came out at 0.42 to 0.48; those whose ring codes are lost to blur (4 px and more
 * where a picture height has 800 px) at 0.16 and less, in faint and noisy photographs at 0.20 and less.
 */
const SOFT_STEP = 0.22;
/** A burnt-out target covers more of the photograph than lamps and exit signs do. */
const BURNT_TARGET = 0.01;
/** Marks of one eye that agree with one sound view prove that the target is there; any four agree with some view. */
const FEWEST_AGREEING = 5;
const FEWEST_NEEDED = 24;
/**
 * Words of the codebook without a common view: another target, or two. Crossings that are no marks of ours are read as
 * well (hundreds from a pattern of rings), but few of their words are in the codebook: about one in ten by chance.
 */
const STRANGE_WORDS = 12;
const STRANGE_SHARE = 1 / 3;

export function explainAbsence(pixels: Pixels, detection: MarkDetection, identified: number): Refusal<AbsenceCode> {
  const { code999, brightestCode, clippedFraction } = surveyExposure(pixels);
  if (identified > 0 && clippedFraction > BURNT_TARGET) {
    return refuse('overexposed', { clipped_pct: 100 * clippedFraction });
  }
  const marks = detection.marks.filter((mark) => !mark.mirrored);
  const partial = findPartialTarget(marks, pixels);
  const isSoft = steepestStep(pixels) < SOFT_STEP;
  if (partial && !isSoft) {
    const facts = { found: partial.agreeing, needed: FEWEST_NEEDED };
    return judgeView(partial.photoFromChart) ?? refuse('too-few-marks', facts);
  }
  // A single bright mark in a black photograph is no matter of exposure.
  const isBlack = code999 < BLACK_CODE && (identified === 0 || brightestCode < 4 * BLACK_CODE);
  if (isBlack) return refuse('underexposed', { brightest_pct: (100 * code999) / 255 });
  if (clippedFraction > MAX_CLIPPED) return refuse('overexposed', { clipped_pct: 100 * clippedFraction });
  // Nothing tells a target out of focus from a picture that is none.
  if (isSoft) return refuse('blurred', identified === 0 ? { recognised: 'nothing' } : {});
  if (identified >= STRANGE_WORDS && identified > STRANGE_SHARE * detection.read) {
    return refuse('inconsistent-marks', { read: detection.read, identified });
  }
  if (identified > 0 && detection.read < 4 * identified) {
    return refuse('too-few-marks', { found: identified, needed: FEWEST_NEEDED });
  }
  return refuse('no-target', { crossings: detection.saddles });
}

interface PartialTarget {
  readonly agreeing: number;
  readonly photoFromChart: Homography;
}

/** The eye with more marks in one sound view, if there are enough to be no chance. */
function findPartialTarget(marks: readonly IdentifiedMark[], pixels: Pixels): PartialTarget | undefined {
  const found = EYES.flatMap((eye) => {
    const own = marks.filter(({ mark }) => mark.eye === eye);
    const consensus = findConsensus(own.map(({ mark, centre }) => ({ at: mark, seen: centre })));
    if (!consensus || !isSound(consensus.photoFromChart, pixels)) return [];
    const misfits = consensus.agreeing.map((i) => misfit(consensus.photoFromChart, own[i]!.mark, own[i]!.centre));
    const agreeing = misfits.filter((distance) => distance < MAX_MISFIT_PX).length;
    return [{ agreeing, of: own.length, photoFromChart: consensus.photoFromChart }];
  }).toSorted((a, b) => b.agreeing - a.agreeing);
  const [best] = found;
  return best && best.agreeing >= FEWEST_AGREEING && best.agreeing > best.of / 2 ? best : undefined;
}

/** Rough centres are good to a pixel, and a lens may bend part of the picture by some more. */
const MAX_MISFIT_PX = 12;
/** A view that sees one picture height larger than so many photographs is none. */
const MAX_ENLARGED = 4;

function misfit(photoFromChart: Homography, at: Point, seen: Point): number {
  const p = transfer(photoFromChart, at);
  return Math.hypot(p.x - seen.x, p.y - seen.y);
}

function isSound(photoFromChart: Homography, { width, height }: Pixels): boolean {
  const top = transfer(photoFromChart, { x: 0, y: 0.5 });
  const bottom = transfer(photoFromChart, { x: 0, y: -0.5 });
  const seen_px = Math.hypot(top.x - bottom.x, top.y - bottom.y);
  return seen_px < MAX_ENLARGED * Math.max(width, height);
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
  return range > 0 ? percentile(steps, 98) / range : 0;
}
