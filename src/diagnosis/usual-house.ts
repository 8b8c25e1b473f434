/** What a house without a fault is like: every spread an assumption of ours but the floor. */
import type { ShapeTerm } from './cause-row.ts';

/** Through a house without a fault: leak over signal of both lenses together, and of one lens against the other. */
export const USUAL_LIGHT = {
  /** Median and spread (of the logarithm) of the common floor; 200 : 1 through a metallic screen is called good. */
  floor: 0.004,
  floorSpread: 0.5,
  /** What a lens leaks more or less than the other, as a fraction of the signal: a degree or two of its own. */
  lensSpread: 0.0015,
  /** Relative spread of what a leak is known to follow from optics: sheets, tone curve, place. */
  relativeSpread: 0.1,
  /** Spread of the logarithm of right-eye over left-eye picture's light. */
  balanceSpread: 0.12,
} as const;

/** Spread of the vertical offset of pictures on which screws have been at work, and of what a half frame moves them by, ih. */
export const USUAL_OFFSET_IH = 0.006;

/** Spreads of the shape of pictures in a house without a fault, percent. */
export const USUAL_SHAPE_PCT: Readonly<Record<ShapeTerm, number>> = {
  size: 0.15,
  stretch: 0.05,
  shear: 0.05,
  keystoneH: 0.12,
  keystoneV: 0.12,
};
