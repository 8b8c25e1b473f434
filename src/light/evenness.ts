/**
 * How even the light is: sides and corners against the centre, the hot spot, left against right and top against bottom,
 * and with one reading of a luminance meter the luminance over the picture.
 *
 * What a camera sees from one seat is lamp, lens and screen together. A metallic screen sends most light one way, so
 * the hot spot moves with the seat and nothing here is a property of the beam alone; `notes` says so always.
 *
 * Places are chart points in ih, x right and y up as seen from the audience.
 */
import { degreesFromRadians } from '../kernel/angles.ts';
import {
  elementAt,
  invertSymmetric,
  matrixFromRows,
  multiply,
  propagateCovariance,
  scale,
} from '../kernel/linear-algebra.ts';
import { type Measured, scaleMeasured } from '../kernel/measured.ts';
import { CD_M2_PER_FOOTLAMBERT } from '../kernel/photometry.ts';
import type { Point } from '../kernel/point.ts';
import { LIGHT_PLACES, type LightPlace } from '../record/light-codes.ts';
import { basisAt, evaluate, exponential, type LightSurface, lightRatio, termsOf } from './light-surface.ts';
import type { VignettingMethod } from './vignetting.ts';

/** Sides and corners are judged this part of the picture's width and height inside its edges. Our own definition. */
export const EDGE_INSET = 0.05;

export type EvennessNote = 'gain-depends-on-seat' | 'vignetting-assumed' | 'coarse-surface' | 'hot-spot-at-edge';

export interface HotSpot {
  readonly at: Point;
  /** Standard uncertainties along x and y; null where the light rises up to the picture's edge. */
  readonly u: Point | null;
  /** From the picture's centre: distance in ih and direction, counter-clockwise from the right. */
  readonly distance_ih: number;
  readonly direction_deg: number;
  /** Its light over the centre's. */
  readonly overCentre: Measured;
  /** ln(overCentre) in its standard uncertainties: below 2 the centre may be as bright. */
  readonly significance: number;
}

export interface Evenness {
  /** Light over the light in the centre; the centre itself is 1. */
  readonly ofCentre: Readonly<Record<LightPlace, Measured>>;
  readonly darkest: { readonly place: LightPlace; readonly ofCentre: Measured };
  readonly hotSpot: HotSpot;
  /** Mean light (geometric) of the right half over the left half, of the top half over the bottom half. */
  readonly rightOverLeft: Measured;
  readonly topOverBottom: Measured;
  readonly notes: readonly EvennessNote[];
}

/**
 * Chart point of a named place, ih.
 *
 * @example
 * placePoint('left', 2.35); // { x: -1.0575, y: 0 }
 */
export function placePoint(place: LightPlace, aspect: number): Point {
  const reach = 0.5 - EDGE_INSET;
  const side = (low: string, high: string) => (place.includes(high) ? 1 : place.includes(low) ? -1 : 0);
  return { x: side('left', 'right') * reach * aspect, y: side('bottom', 'top') * reach };
}

/**
 *
 *
 * @example
 * const { least } = describeEvenness(surface, 'assumed');
 * // least.ofCentre: the darkest place as a part of the centre, with u
 */
export function describeEvenness(surface: LightSurface, vignetting: VignettingMethod): Evenness {
  const { aspect } = surface;
  const centre = { x: 0, y: 0 };
  const ofCentre = Object.fromEntries(
    LIGHT_PLACES.map((place) => [place, lightRatio(surface, placePoint(place, aspect), centre)]),
  ) as Record<LightPlace, Measured>;
  const darkest = LIGHT_PLACES.reduce((darkest, place) =>
    ofCentre[place].value < ofCentre[darkest].value ? place : darkest,
  );
  const hotSpot = describeHotSpot(surface);
  const notes: EvennessNote[] = ['gain-depends-on-seat'];
  if (vignetting === 'assumed') notes.push('vignetting-assumed');
  if (surface.order < 4) notes.push('coarse-surface');
  if (hotSpot.u === null) notes.push('hot-spot-at-edge');
  return {
    ofCentre,
    darkest: { place: darkest, ofCentre: ofCentre[darkest] },
    hotSpot,
    rightOverLeft: compareHalves(surface, 'x'),
    topOverBottom: compareHalves(surface, 'y'),
    notes,
  };
}

function describeHotSpot(surface: LightSurface): HotSpot {
  const { at, u } = findHotSpot(surface);
  const row = basisAt(at, surface.aspect, surface.order);
  const centre = basisAt({ x: 0, y: 0 }, surface.aspect, surface.order);
  const log = evaluate(
    surface,
    row.map((b, k) => b - centre[k]),
  );
  return {
    at,
    u,
    distance_ih: Math.hypot(at.x, at.y),
    direction_deg: degreesFromRadians(Math.atan2(at.y, at.x)),
    overCentre: exponential(log),
    significance: log.u > 0 ? log.value / log.u : 0,
  };
}

/**
 * The mean of ln L over the half on the positive side minus that over the other half. The mean of X^i over -1..1 is zero
 * for odd i and 1 / (i + 1) for even i; over 0..1 it is 1 / (i + 1), so odd i differ by 2 / (i + 1) and even ones do not.
 */
function compareHalves(surface: LightSurface, axis: 'x' | 'y'): Measured {
  const row = termsOf(surface.order).map(([i, j]) => {
    const [along, across] = axis === 'x' ? [i, j] : [j, i];
    return along % 2 === 1 && across % 2 === 0 ? 2 / ((along + 1) * (across + 1)) : 0;
  });
  return exponential(evaluate(surface, row));
}

/** One reading of a luminance meter at a place of the picture, on the same bright patches that were photographed. */
export interface MeterReading {
  readonly at: Point;
  readonly luminance_cd_m2: Measured;
}

export interface PlaceLuminance {
  readonly cd_m2: Measured;
  readonly fL: Measured;
}

/**
 * Luminance in all places from a reading in one: each place's light over that one's, times the reading.
 *
 * @example
 * spreadLuminance(surface, { at: { x: 0, y: 0 }, luminance_cd_m2: { value: 48, u: 2 } })['top-left'].cd_m2;
 */
export function spreadLuminance(
  surface: LightSurface,
  reading: MeterReading,
): Readonly<Record<LightPlace, PlaceLuminance>> {
  const { value, u } = reading.luminance_cd_m2;
  const entries = LIGHT_PLACES.map((place): [LightPlace, PlaceLuminance] => {
    const ratio = lightRatio(surface, placePoint(place, surface.aspect), reading.at);
    const cd_m2 = { value: value * ratio.value, u: Math.hypot(u * ratio.value, value * ratio.u) };
    return [place, { cd_m2, fL: scaleMeasured(cd_m2, 1 / CD_M2_PER_FOOTLAMBERT) }];
  });
  return Object.fromEntries(entries) as Record<LightPlace, PlaceLuminance>;
}

/**
 * The brightest place of a picture, from its light surface.
 *
 *   grad ln L = 0,     cov(place) = H^-1 J C J^T H^-1
 *
 * H is the matrix of second derivatives at the maximum, J the derivatives of the gradient by the coefficients, C their
 * covariance. Where the light still rises at the picture's edge the brightest place stands there, without uncertainty.
 */

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
