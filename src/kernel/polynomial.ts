/** A smooth shift of points of the plane: in each direction a polynomial of total degree up to `POLYNOMIAL_DEGREE`. */
import type { Point } from './point.ts';

export interface Polynomial {
  /** The point is divided by this first, so that powers stay within -1 and 1 over the area that matters. */
  readonly scale: Point;
  /** Of the powers in the order of `powersAt`. */
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
}

const POLYNOMIAL_DEGREE = 4;

/** Exponents of x and y in the order of the coefficients, lowest total degree first. */
export const POWERS: readonly (readonly [number, number])[] = Array.from(
  { length: POLYNOMIAL_DEGREE + 1 },
  (_, degree) => Array.from({ length: degree + 1 }, (__, inY) => [degree - inY, inY] as const),
).flat();

/**
 * What the coefficients are multiplied by at a point.
 *
 * @example
 * const value = powersAt(scale, at).reduce((sum, power, i) => sum + coefficients[i] * power, 0);
 */
export function powersAt(scale: Point, at: Point): number[] {
  const [x, y] = [at.x / scale.x, at.y / scale.y];
  return POWERS.map(([i, j]) => x ** i * y ** j);
}

/**
 * The shift at a point.
 *
 * @example
 * polynomialAt({ scale: { x: 1.175, y: 0.5 }, x: [2], y: [0] }, at); // { x: 2, y: 0 } everywhere
 */
export function polynomialAt(polynomial: Polynomial, at: Point): Point {
  const powers = powersAt(polynomial.scale, at);
  return { x: weighted(polynomial.x, powers), y: weighted(polynomial.y, powers) };
}

/** Its derivatives by the point, `[dx/dx, dx/dy, dy/dx, dy/dy]`. */
export function polynomialDerivative(
  { scale, x: inX, y: inY }: Polynomial,
  at: Point,
): readonly [number, number, number, number] {
  const [x, y] = [at.x / scale.x, at.y / scale.y];
  const byX = POWERS.map(([i, j]) => (i === 0 ? 0 : (i * x ** (i - 1) * y ** j) / scale.x));
  const byY = POWERS.map(([i, j]) => (j === 0 ? 0 : (j * x ** i * y ** (j - 1)) / scale.y));
  return [weighted(inX, byX), weighted(inX, byY), weighted(inY, byX), weighted(inY, byY)];
}

function weighted(coefficients: ArrayLike<number>, powers: readonly number[]): number {
  let sum = 0;
  for (let k = 0; k < coefficients.length; k++) sum += coefficients[k]! * powers[k]!;
  return sum;
}
