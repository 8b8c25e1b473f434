/**
 * Gives back what a file's black and its coding take from a faint picture.
 *
 * Noise about a dark level has two sides, but a file holds no light below black: what falls below is kept as black,
 * and the mean of the dark rises. A faint picture on it then seems weaker than it is. For noise of standard deviation
 * s about a level x s, cut off at zero, the mean is that of a rectified normal variable,
 *
 *   m = s r(x),   r(x) = x Phi(x) + phi(x)
 *
 * If the dark were truly black (x = 0), its mean would tell s, and the mean of the bright its own level: that is the
 * most that can have been taken. The least is nothing. Where between the two the truth lies the scatter of the dark
 * tells, against its mean: a dark that scatters by less than half its mean is hardly cut. Three channels cut each for
 * itself and JPEG, which smooths, leave no formula for it; the law below is calibrated.
 *
 * JPEG besides keeps no contrast below its quantization, and of a faint one always somewhat too little.
 */
import type { Measured } from '../kernel/measured.ts';
import { normalCdf } from '../kernel/statistics.ts';

export interface DarkGround {
  /** Mean linear light of the dark, and the standard deviation of its pixels. */
  readonly mean: number;
  readonly deviation: number;
}

export interface Coding {
  /** Linear light between neighbouring codes of the file at a linear light. */
  readonly stepAt: (light: number) => number;
  /** First value of a JPEG's luminance quantization table; 0 without loss. */
  readonly quantization: number;
  readonly isColour: boolean;
}

/**
 * Calibrated with the simulated photographs of six houses at leaks of 0.1 to 8 %: usual, dim, noisy, both, and JPEG of
 * quality 55. The part given back grows with deviation over mean from START on (earlier by JPEG_SMOOTHS for each step of
 * the quantization), where the scatter is more than rounding.
 */
const START = 0.53;
const RISE = 2.5;
const MAX_PART = 0.75;
const JPEG_SMOOTHS = 0.02;
const MAX_SMOOTHING = 0.1;
const ROUNDING_STEPS = { all: 0.9, none: 1.5 };
/** Standard uncertainty, as a part of the most: PART_U sqrt(part + MIN_PART). */
const PART_U = 0.2;
const MIN_PART = 0.1;
/** So far below START the dark is not cut at all. */
const MARGIN = 0.25;
/** What JPEG takes, in steps for each step of its quantization, and how well that is known. */
const JPEG_TAKES = 0.02;
const JPEG_U = 0.035;
/**
 * A colour JPEG rounds the colour of an evenly lit place alike all over it: 0.07 codes of luminance by two rounded colour
 * differences, and a little more for colour that it drops. Told in codes at the faint picture's own light.
 */
const COLOUR_U = 0.1;
/** Rounding that noise does not spread, in steps, over the marks of a picture. */
const ROUNDING_U = 0.02;

/**
 * The contrast that would have been measured without cut and loss, with the uncertainty that this adds.
 *
 * @example
 * restoreContrast(0.002, ground, coding); // linear light, a little more than was seen
 */
export function restoreContrast(contrast: number, ground: DarkGround, coding: Coding): Measured {
  const codingU = uncertaintyOfCoding(coding, ground.mean + Math.max(0, contrast));
  if (ground.mean <= 0 || contrast <= 0) return { value: contrast, u: codingU };
  const kept = JPEG_TAKES * coding.quantization * coding.stepAt(0);
  const { part, partU } = partTaken(ground, coding);
  if (partU === 0) return { value: contrast + kept, u: codingU };
  const deviation = ground.mean / rectifiedMean(0);
  const most = deviation * invertRectifiedMean((ground.mean + contrast) / deviation) - contrast;
  return { value: contrast + kept + part * most, u: Math.hypot(codingU, partU * most) };
}

/** By how much the coding may falsify the contrast of all marks alike, linear light; `light`: of their bright parts. */
function uncertaintyOfCoding({ stepAt, quantization, isColour }: Coding, light: number): number {
  const colourU = isColour && quantization > 0 ? COLOUR_U * stepAt(light) : 0;
  return Math.hypot(stepAt(0) * Math.hypot(ROUNDING_U, JPEG_U * quantization), colourU);
}

function partTaken({ mean, deviation }: DarkGround, { stepAt, quantization }: Coding): { part: number; partU: number } {
  const smoothed = Math.min(MAX_SMOOTHING, JPEG_SMOOTHS * Math.max(0, quantization - 1));
  const scatter = deviation / mean + smoothed;
  const { all, none } = ROUNDING_STEPS;
  const isNoise = ramp(deviation / stepAt(0), all, none);
  const part = isNoise * Math.min(MAX_PART, Math.max(0, RISE * (scatter - START)));
  const leastPart = isNoise * MIN_PART * ramp(scatter, START - MARGIN, START);
  return { part, partU: PART_U * Math.sqrt(part + leastPart) };
}

/** 0 up to `from`, 1 from `to` on, straight between. */
function ramp(value: number, from: number, to: number): number {
  return Math.min(1, Math.max(0, (value - from) / (to - from)));
}

/** r(x), the mean of max(0, x + n) with standard normal n. */
function rectifiedMean(x: number): number {
  return x * normalCdf(x) + Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
}

/** Newton's method for arguments above r(0): the slope is Phi(x), at least a half between there and the solution. */
function invertRectifiedMean(m: number): number {
  let x = m;
  for (let round = 0; round < 50; round++) {
    const step = (rectifiedMean(x) - m) / normalCdf(x);
    x -= step;
    if (Math.abs(step) < 1e-12) break;
  }
  return x;
}
