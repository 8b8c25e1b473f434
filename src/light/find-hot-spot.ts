/**
 * The brightest place of a picture, from its light surface.
 *
 *   grad ln L = 0,     cov(place) = H^-1 J C J^T H^-1
 *
 * H is the matrix of second derivatives at the maximum, J the derivatives of the gradient by the coefficients, C their
 * covariance. Where the light still rises at the picture's edge the brightest place stands there, without uncertainty.
 */
import {
  matrixFromRows,
  multiply,
  propagateCovariance,
  scale,
  invertSymmetric,
  elementAt,
} from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import { basisAt, evaluate, type LightSurface, termsOf } from './light-surface.ts';

export interface BrightestPlace {
  readonly at: Point;
  readonly u: Point | null;
}

const COLUMNS = 48;
const ROWS = 24;
const NEWTON_STEPS = 20;

export function findHotSpot(surface: LightSurface): BrightestPlace {
  const start = brightestOfGrid(surface);
  return settle(surface, start) ?? { at: start, u: null };
}

function brightestOfGrid(surface: LightSurface): Point {
  let brightest = { at: { x: 0, y: 0 }, log: Number.NEGATIVE_INFINITY };
  for (let r = 0; r <= ROWS; r++) {
    for (let c = 0; c <= COLUMNS; c++) {
      const at = { x: (c / COLUMNS - 0.5) * surface.aspect, y: r / ROWS - 0.5 };
      const log = evaluate(surface, basisAt(at, surface.aspect, surface.order)).value;
      if (log > brightest.log) brightest = { at, log };
    }
  }
  return brightest.at;
}

/** Newton's method to the maximum; `undefined` where it leaves the picture or the place is no maximum. */
function settle(surface: LightSurface, start: Point): BrightestPlace | undefined {
  const { aspect } = surface;
  let at = start;
  for (let i = 0; i < NEWTON_STEPS; i++) {
    const { gradient, bend } = derivatives(surface, at);
    const inverse = invertSymmetric(scale(bend, -1));
    if (!inverse) return undefined;
    const step = multiply(inverse, matrixFromRows([[gradient.x], [gradient.y]]));
    at = { x: at.x + step.data[0], y: at.y + step.data[1] };
    if (Math.abs(at.x) > aspect / 2 || Math.abs(at.y) > 0.5) return undefined;
    if (Math.hypot(step.data[0], step.data[1]) < 1e-10) break;
  }
  const { bend, gradientRows } = derivatives(surface, at);
  const inverse = invertSymmetric(scale(bend, -1));
  if (!inverse) return undefined;
  const covariance = propagateCovariance(multiply(inverse, matrixFromRows(gradientRows)), surface.covariance);
  return { at, u: { x: Math.sqrt(elementAt(covariance, 0, 0)), y: Math.sqrt(elementAt(covariance, 1, 1)) } };
}

/** Gradient and second derivatives of ln L by x and y (per ih), and the rows that give the gradient. */
function derivatives(surface: LightSurface, { x, y }: Point) {
  const { aspect, order } = surface;
  const [sx, sy] = [2 / aspect, 2];
  const [X, Y] = [x * sx, y * sy];
  const terms = termsOf(order);
  const power = (base: number, exponent: number, times: number) => {
    let factor = 1;
    for (let k = 0; k < times; k++) factor *= exponent - k;
    return factor === 0 ? 0 : factor * base ** (exponent - times);
  };
  const rowOf = (dx: number, dy: number) =>
    terms.map(([i, j]) => power(X, i, dx) * power(Y, j, dy) * sx ** dx * sy ** dy);
  const derivativeOf = (row: readonly number[]) => evaluate(surface, row).value;
  const gradientRows = [rowOf(1, 0), rowOf(0, 1)];
  const cross = derivativeOf(rowOf(1, 1));
  return {
    gradientRows,
    gradient: { x: derivativeOf(gradientRows[0]), y: derivativeOf(gradientRows[1]) },
    bend: matrixFromRows([
      [derivativeOf(rowOf(2, 0)), cross],
      [cross, derivativeOf(rowOf(0, 2))],
    ]),
  };
}
