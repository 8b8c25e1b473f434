/**
 * What the camera's own lens takes from the light towards the edges of the photograph, in three ways of knowing it:
 *
 *   flat-field      a photograph of an evenly lit surface, same lens, zoom, stop and focus:
 *                   ln y = c + g . p + ln V(r), the slope g taken as the surface's own
 *   turned-camera   the picture photographed twice with the camera panned between: the same places of the screen then
 *                   fall on other parts of the lens, ln(y1 / y2) = e + ln V(r1) - ln V(r2)
 *   assumed         natural vignetting and as much again or none: ln V = -2 a ln(1 + T^2 r^2), a = 1 +- 0.5
 *
 *   ln V(r) = -(v1 r^2 + v2 r^4 + v3 r^6)       where it is fitted, v3 only by the flat field
 *
 * r is the distance from the photograph's middle over half its diagonal, T the tangent of half the diagonal's angle of
 * view. cos^4 of the angle is a = 1, exact for a stop in object space; mechanical vignetting adds to it, lenses of the
 * inverted telephoto kind have less, and cameras that correct their pictures leave nothing: a = 1 +- 0.5 holds all of
 * them within two standard uncertainties. That is an assumption of ours, not a published figure.
 *
 * References: cos^4 law, exact only with a stop in object space (photogrammetry proceedings, TIB Hannover).
 */
import { choleskyFactor, type Matrix } from '../kernel/linear-algebra.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Point } from '../kernel/point.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { solveWeighted, type WeightedRow } from './solve-weighted.ts';

export type VignettingMethod = 'flat-field' | 'turned-camera' | 'assumed';

export interface Vignetting {
  readonly method: VignettingMethod;
  /** ln V at r; 0 in the middle. */
  readonly logTransmittance: (radius: number) => number;
  /** Changes of ln V at r by one standard uncertainty of each independent unknown. */
  readonly spread: (radius: number) => readonly number[];
}

/** Light at a place of the photograph, given from the middle in half diagonals, x right, y down. */
export interface FrameSample {
  readonly place: Point;
  readonly light: number;
  readonly u: number;
}

/** The same place of the screen in two photographs between which the camera was panned. */
export interface TurnedSample {
  readonly first: FrameSample;
  readonly second: FrameSample;
}

export type VignettingRefusal = Refusal<'too-few-samples' | 'camera-not-turned'>;

const ASSUMED_AMOUNT: Measured = { value: 1, u: 0.5 };
/** How even an "even" surface is towards the corners, as a part of its light. An assumption of ours. */
const FLATNESS_U = 0.01;
const MIN_FLAT_SAMPLES = 20;
const MIN_TURNED_SAMPLES = 8;
/** What is known of v1 and v2 before any photograph: values and standard deviations. */
const PRIOR: readonly Measured[] = [
  { value: 0.3, u: 0.6 },
  { value: 0, u: 0.3 },
];
/** Turned so little that the corner stays known worse than this, the pair is worth no more than the assumption. */
const MAX_CORNER_U = 0.2;

/**
 * Distance from the photograph's middle, in half diagonals.
 *
 * @example
 * radiusOf({ x: 0.6, y: 0.8 }); // 1, a corner
 */
export function radiusOf({ x, y }: Point): number {
  return Math.hypot(x, y);
}

/**
 * Natural vignetting and as much again or none; `tangent`: T.
 *
 * @example
 * assumeVignetting({ value: 0.35, u: 0.02 }).logTransmittance(1); // ln of what passes in the corners
 */
export function assumeVignetting(tangent: Measured): Vignetting {
  const log = (r: number) => Math.log(1 + (tangent.value * r) ** 2);
  const slope = (r: number) => (2 * tangent.value * r * r) / (1 + (tangent.value * r) ** 2);
  return {
    method: 'assumed',
    logTransmittance: (r) => -2 * ASSUMED_AMOUNT.value * log(r),
    spread: (r) => [-2 * ASSUMED_AMOUNT.u * log(r), -2 * ASSUMED_AMOUNT.value * slope(r) * tangent.u],
  };
}

/**
 * From samples of a photograph of an evenly lit surface. Refused for too few of them.
 *
 * @example
 * const lens = vignettingFromFlat(samples);
 */
export function vignettingFromFlat(samples: readonly FrameSample[]): Vignetting | VignettingRefusal {
  const lit = samples.filter(({ light }) => light > 0);
  const tooFew = refuse('too-few-samples', { found: lit.length, needed: MIN_FLAT_SAMPLES } as const);
  if (lit.length < MIN_FLAT_SAMPLES) return tooFew;
  const rows = lit.map(({ place, light, u }): WeightedRow => {
    const r2 = radiusOf(place) ** 2;
    return { row: [-r2, -(r2 ** 2), -(r2 ** 3), 1, place.x, place.y], value: Math.log(light), u: u / light };
  });
  const solution = solveWeighted(rows);
  if (!solution) return tooFew;
  const excess = solution.redundancy > 0 ? Math.max(1, solution.chiSquared / solution.redundancy) : 1;
  const fitted = fromPowers('flat-field', solution.parameters.slice(0, 3), solution.covariance, excess);
  return { ...fitted, spread: (r) => [...fitted.spread(r), FLATNESS_U * r * r] };
}

/**
 * From the same places of the screen in two photographs. Refused for too few of them and for a camera that was hardly panned.
 *
 * @example
 * const lens = vignettingFromTurned(samples);
 */
export function vignettingFromTurned(samples: readonly TurnedSample[]): Vignetting | VignettingRefusal {
  const lit = samples.filter(({ first, second }) => first.light > 0 && second.light > 0);
  if (lit.length < MIN_TURNED_SAMPLES) {
    return refuse('too-few-samples', { found: lit.length, needed: MIN_TURNED_SAMPLES });
  }
  const rows = lit.map(({ first, second }): WeightedRow => {
    const [a, b] = [radiusOf(first.place) ** 2, radiusOf(second.place) ** 2];
    return {
      row: [b - a, b * b - a * a, 1],
      value: Math.log(first.light / second.light),
      u: Math.hypot(first.u / first.light, second.u / second.light),
    };
  });
  const free = solveWeighted(rows);
  const excess = free && free.redundancy > 0 ? Math.max(1, free.chiSquared / free.redundancy) : 1;
  const prior = PRIOR.map(
    ({ value, u }, k): WeightedRow => ({ row: [0, 1, 2].map((j) => (j === k ? 1 : 0)), value, u }),
  );
  // The scatter is the samples', not the prior's, so it goes into their u.
  const scattered = rows.map((row) => ({ ...row, u: row.u * Math.sqrt(excess) }));
  const solution = solveWeighted([...scattered, ...prior]);
  if (!solution) return refuse('camera-not-turned');
  const fitted = fromPowers('turned-camera', solution.parameters.slice(0, 2), solution.covariance, 1);
  const cornerU = Math.hypot(...fitted.spread(1));
  if (cornerU > MAX_CORNER_U) {
    return refuse('camera-not-turned', { corner_u_pct: 100 * cornerU, limit_pct: 100 * MAX_CORNER_U });
  }
  return fitted;
}

/** ln V from its powers; the covariance's first rows and columns are theirs. */
function fromPowers(method: VignettingMethod, powers: Float64Array, covariance: Matrix, excess: number): Vignetting {
  const n = powers.length;
  const own = { rows: n, cols: n, data: new Float64Array(n * n) };
  for (let r = 0; r < n; r++) {
    for (let c = 0; c < n; c++) own.data[r * n + c] = excess * covariance.data[r * covariance.cols + c];
  }
  const factor = choleskyFactor(own);
  const basis = (r: number) => Array.from({ length: n }, (_, k) => -(r ** (2 * k + 2)));
  return {
    method,
    logTransmittance: (r) => basis(r).reduce((sum, b, k) => sum + b * powers[k], 0),
    // The columns of the triangular factor are independent directions, each one standard uncertainty long.
    spread: (r) => {
      const b = basis(r);
      if (!factor) return b.map((v, k) => v * Math.sqrt(Math.max(0, own.data[k * n + k])));
      return b.map((_, column) => b.reduce((sum, v, row) => sum + v * factor.data[row * n + column], 0));
    },
  };
}
