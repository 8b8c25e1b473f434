/** Which eye's picture each lens passes, and how much of the other one leaks through. */
import type { Measured } from '../kernel/measured.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';

export type EyeAssignment = 'correct' | 'swapped' | 'undetermined';

/** Strength of both eyes' pictures in one photograph: bright minus dark of the same kind of mark, in linear light. */
export interface PictureStrengths {
  readonly left: Measured;
  readonly right: Measured;
}

export interface Eyes {
  readonly assignment: EyeAssignment;
  /** In the photograph through the left lens: right-eye picture's strength over left-eye picture's, as a fraction. */
  readonly crosstalkLeft: Measured;
  /** In the photograph through the right lens: left-eye picture's strength over right-eye picture's, as a fraction. */
  readonly crosstalkRight: Measured;
  /** Weaker picture over stronger picture through each lens, as a fraction; the same as crosstalk unless the eyes are swapped. */
  readonly leakLeftLens: Measured;
  readonly leakRightLens: Measured;
  readonly throughLeftLens: PictureStrengths;
  readonly throughRightLens: PictureStrengths;
}

/**
 * Which eye's picture each lens passes.
 *
 * With r the right-eye picture's strength over the left-eye picture's in one photograph, the glasses work when r is
 * small through the left lens and large through the right lens. Different brightness of the two pictures multiplies
 * both alike, so the separation q = ln(r_right / r_left) tells whether the lenses tell the pictures apart at all.
 */

/** Right-eye over left-eye picture in the photographs through the left and the right lens, as fractions; each positive. */
export interface LensRatios {
  readonly left: Measured;
  readonly right: Measured;
}

/** The lenses separate when they change the ratio of the pictures at least so many times. */
const MIN_SEPARATION = 1.5;
/** Both photographs show one eye's picture when the other's strength is below this fraction of it in both. */
const ONE_EYE_BELOW = 0.5;

/**
 * Which eye's picture each lens passes, from right-eye over left-eye picture through each; refused where both photographs show one eye's picture.
 *
 * @example
 * assignEyes({ left: { value: 0.01, u: 0.001 }, right: { value: 90, u: 5 } }); // 'correct'
 * assignEyes({ left: { value: 90, u: 5 }, right: { value: 0.01, u: 0.001 } }); // 'swapped'
 */
export function assignEyes(ratios: LensRatios): EyeAssignment | Refusal<'same-eye-twice'> {
  const { value: left } = ratios.left;
  const { value: right } = ratios.right;
  if (Math.max(left, right) < ONE_EYE_BELOW) return refuse('same-eye-twice', { eye: 'left' });
  if (Math.min(left, right) > 1 / ONE_EYE_BELOW) return refuse('same-eye-twice', { eye: 'right' });
  const opposite = left < 1 !== right < 1;
  // Compared as products: a leak lost in the noise may come out below zero, and a quotient would turn the order round.
  if (opposite && right > MIN_SEPARATION * left) return 'correct';
  if (opposite && left > MIN_SEPARATION * right) return 'swapped';
  return 'undetermined';
}

/**
 * Crosstalk through both lenses by the assignment that is known, and what leaks of the weaker picture.
 *
 * @example
 * describeEyes('correct', ratios, throughLeft, throughRight).crosstalkLeft; // a fraction
 */
export function describeEyes(
  assignment: EyeAssignment,
  ratios: LensRatios,
  throughLeftLens: PictureStrengths,
  throughRightLens: PictureStrengths,
): Eyes {
  const crosstalkLeft = ratios.left;
  const crosstalkRight = invertRatio(ratios.right);
  return {
    assignment,
    crosstalkLeft,
    crosstalkRight,
    leakLeftLens: weakerOverStronger(crosstalkLeft),
    leakRightLens: weakerOverStronger(crosstalkRight),
    throughLeftLens,
    throughRightLens,
  };
}

/**
 * 1 / x with its uncertainty; x must not be 0.
 *
 * @example
 * invertRatio({ value: 50, u: 1 }); // { value: 0.02, u: 0.0004 }
 */
export function invertRatio({ value, u }: Measured): Measured {
  return { value: 1 / value, u: u / (value * value) };
}

function weakerOverStronger(ratio: Measured): Measured {
  return ratio.value > 1 ? invertRatio(ratio) : ratio;
}
