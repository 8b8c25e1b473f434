/** Which eye's picture each lens passes, and how much of the other one leaks through. */
import type { Measured } from '../kernel/measured.ts';

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
  /** Weaker picture over stronger picture through each lens, as a fraction; the same as crosstalk unless the eyes are exchanged. */
  readonly leakLeftLens: Measured;
  readonly leakRightLens: Measured;
  readonly throughLeftLens: PictureStrengths;
  readonly throughRightLens: PictureStrengths;
}
