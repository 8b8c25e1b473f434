/**
 * How the right-eye picture lies on the left-eye picture: the eight terms of the misalignment field
 *
 *   d(x,y) = [dx, dy] + rot*[-y, x] + size*[x, y] + stretch*[x, -y] + shear*[y, x] + keyH*x*[x, y] + keyV*y*[x, y]
 *
 * d is right minus left, in ih, at the chart point (x, y) in ih (origin at the picture centre, y up).
 */
import type { Measured } from '../kernel/measured.ts';
import type { Point } from '../kernel/point.ts';

/** The terms in the order of every vector and covariance of them. */
export const TERMS = [
  'verticalOffset',
  'horizontalOffset',
  'rotation',
  'size',
  'stretch',
  'shear',
  'keystoneH',
  'keystoneV',
] as const;

export type Term = (typeof TERMS)[number];

/** One number for each term, in ih, radians (rotation) and fractions. Keystone is a fraction per ih. */
export type TermVector = Readonly<Record<Term, number>>;

export interface Misalignment {
  readonly terms: Readonly<Record<Term, Measured>>;
  /** 8 x 8 covariance of the terms in the order of `TERMS`, row by row. */
  readonly covariance: readonly (readonly number[])[];
  /** Largest |d_y| over the picture area, ih, and the chart point where it stands. */
  readonly worstVertical: Measured & { readonly at: Point };
}

/**
 * The part of the field that the eight terms describe, at chart point `at`, in ih.
 *
 * @example
 * fieldOfTerms(terms, { x: 1.1, y: 0.4 }); // ih, right minus left
 */
export function fieldOfTerms(t: TermVector, at: Point): Point {
  const { x, y } = at;
  return {
    x:
      t.horizontalOffset -
      t.rotation * y +
      t.size * x +
      t.stretch * x +
      t.shear * y +
      t.keystoneH * x * x +
      t.keystoneV * x * y,
    y:
      t.verticalOffset +
      t.rotation * x +
      t.size * y -
      t.stretch * y +
      t.shear * x +
      t.keystoneH * x * y +
      t.keystoneV * y * y,
  };
}
