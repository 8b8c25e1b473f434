/**
 * The eight terms by which the simulated right-eye picture is laid on the left-eye picture, and the exact transform
 * that has them.
 *
 *   d(x,y) = [dx, dy] + rot*[-y, x] + size*[x, y] + stretch*[x, -y] + shear*[y, x] + keyH*x*[x, y] + keyV*y*[x, y]
 *
 * d is right minus left in ih at the chart point (x, y), y up. The room says this for itself, apart from the rooms it
 * is the judge of.
 */
import type { Homography } from '../kernel/homography.ts';

export const SCENE_TERMS = [
  'verticalOffset',
  'horizontalOffset',
  'rotation',
  'size',
  'stretch',
  'shear',
  'keystoneH',
  'keystoneV',
] as const;

/** Offsets in ih, rotation in radians (counter-clockwise), size, stretch and shear as fractions, keystone per ih. */
export type SceneTerms = Readonly<Record<(typeof SCENE_TERMS)[number], number>>;

export const NO_MISALIGNMENT: SceneTerms = {
  verticalOffset: 0,
  horizontalOffset: 0,
  rotation: 0,
  size: 0,
  stretch: 0,
  shear: 0,
  keystoneH: 0,
  keystoneV: 0,
};

export function scaleTerms(terms: SceneTerms, factor: number): SceneTerms {
  return Object.fromEntries(SCENE_TERMS.map((term) => [term, factor * terms[term]])) as SceneTerms;
}

/**
 * The homography that moves a chart point c to c + d(c), exact for offset, rotation, size, stretch and shear alone and
 * to second order otherwise: a keystone is a division by 1 - keyH x - keyV y.
 */
export function displacement(terms: SceneTerms): Homography {
  const { verticalOffset, horizontalOffset, rotation, size, stretch, shear, keystoneH, keystoneV } = terms;
  const sin = Math.sin(rotation);
  const versine = 1 - Math.cos(rotation);
  return [
    1 + size + stretch - versine,
    shear - sin,
    horizontalOffset,
    shear + sin,
    1 + size - stretch - versine,
    verticalOffset,
    -keystoneH,
    -keystoneV,
    1,
  ];
}
