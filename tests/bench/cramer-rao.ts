/**
 * The Cramer-Rao bound of a simulated pair of photographs: how well the terms could be known at best.
 *
 *   F = sum over pixels of w (grad I . dp/dtheta)^T (grad I . dp/dtheta),   C >= (F + P)^-1,   C_terms = J C J^T
 *
 * I is the noise-free light, theta the eight parameters of each eye's homography and four of the lens (k1, k2 and its
 * centre) in the photo frame centred and scaled to half the diagonal, P what is known of lenses beforehand. Light
 * levels and blur are taken as known, so the bound is, if anything, too low.
 *
 * Noise of one channel: photon and read noise of the simulated sensor, and step^2 / 12 of its 8-bit sRGB coding. JPEG
 * compression is not modelled. Two detectors: `channels` weighs the three channels at their best, which nothing that
 * starts from these pixels can beat; `luma` sees only the luminance with the weights of ITU-R BT.709.
 *
 * Reference: Kay, Fundamentals of Statistical Signal Processing: Estimation Theory (1993), chapter 3.
 */
import { measureMisalignment } from '../../src/geometry/measure-misalignment.ts';
import { TERMS } from '../../src/geometry/misalignment.ts';
import { LENS_PRIOR } from '../../src/geometry/fit-views.ts';
import { LUMA_WEIGHTS } from '../../src/imaging/luminance.ts';
import type { Raster } from '../../src/imaging/pixels.ts';
import { degreesFromRadians } from '../../src/kernel/angles.ts';
import { EYES, type Eye } from '../../src/kernel/eye.ts';
import type { Homography } from '../../src/kernel/homography.ts';
import { createMatrix, invertSymmetric, type Matrix } from '../../src/kernel/linear-algebra.ts';
import type { Point } from '../../src/kernel/point.ts';
import { type ReportedField, TERM_FIELDS } from '../../src/record/term-fields.ts';
import { shotTruth } from '../../src/scene/render-shot.ts';
import type { SceneSet, Shot } from '../../src/scene/scene.ts';
import type { Sensor } from '../../src/scene/sensor.ts';
import { layoutChart, MARK_PROPORTIONS, type Mark } from '../../src/target/chart.ts';
import { addLocalInformation, LOCAL, type Ring } from './local-information.ts';
import { LENS_AT, locate, PARAMETERS, trueParameters } from './true-view.ts';

/**
 * Which pixels of a mark count: `fitted`, its crossing without the blurred ends of the quadrants; `crossing`, the disc
 * meant for registration; `mark`, all of it with its ring.
 */
export const REGIONS = ['fitted', 'crossing', 'mark'] as const;
export type Region = (typeof REGIONS)[number];

export const DETECTORS = ['luma', 'channels'] as const;
export type Detector = (typeof DETECTORS)[number];

/** Standard deviations in the units of a reading. */
export type Bound = Readonly<Record<ReportedField, number>>;
export type Bounds = Readonly<Record<Detector, Readonly<Record<Region, Bound>>>>;

/** The ends' blur is left out up to so many standard deviations. */
const BLUR_REACH = 2.5;

export function boundsOfSet(set: SceneSet, light: Readonly<Record<Eye, Raster>>): Bounds {
  const information = informationOfSet(set, light);
  const bound = (detector: Detector, region: Region) => boundOf(set, information[detector][region]);
  const ofDetector = (detector: Detector) =>
    Object.fromEntries(REGIONS.map((region) => [region, bound(detector, region)])) as Record<Region, Bound>;
  return { luma: ofDetector('luma'), channels: ofDetector('channels') };
}

function boundOf(set: SceneSet, information: Matrix): Bound {
  const covariance = invertSymmetric(withLensPrior(information));
  if (!covariance) throw new RangeError('these photographs say nothing of some parameter');
  const size = LENS_AT;
  const ofHomographies = createMatrix(size, size);
  for (let r = 0; r < size; r++) {
    for (let c = 0; c < size; c++) ofHomographies.data[r * size + c] = covariance.data[r * PARAMETERS + c];
  }
  const theta = trueParameters(set.shots.left.camera, shotTruth(set.scene, set.shots.left).photoFromChart);
  const homography = (from: number) => [...theta.slice(from, from + 8), 1] as unknown as Homography;
  const pair = { left: homography(0), right: homography(8), covariance: ofHomographies };
  const { terms, worstVertical } = measureMisalignment(pair, set.scene.aspect);
  const inFileUnit = (term: (typeof TERMS)[number]) =>
    term === 'rotation' ? degreesFromRadians(terms[term].u) : 100 * terms[term].u;
  return {
    ...(Object.fromEntries(TERMS.map((term, i) => [TERM_FIELDS[i], inFileUnit(term)])) as Bound),
    worst_vertical_pct: 100 * worstVertical.u,
  };
}

/** F + P. */
export function withLensPrior({ rows, cols, data }: Matrix): Matrix {
  const sum = { rows, cols, data: data.slice() };
  LENS_PRIOR.forEach((deviation, k) => {
    sum.data[(LENS_AT + k) * (PARAMETERS + 1)] += deviation ** -2;
  });
  return sum;
}

/** F of both photographs together, for each detector and region. */
export function informationOfSet(
  set: SceneSet,
  light: Readonly<Record<Eye, Raster>>,
): Readonly<Record<Detector, Readonly<Record<Region, Matrix>>>> {
  const empty = () =>
    Object.fromEntries(REGIONS.map((region) => [region, createMatrix(PARAMETERS, PARAMETERS)])) as Record<
      Region,
      Matrix
    >;
  const sums = { luma: empty(), channels: empty() };
  const chart = layoutChart(set.scene.aspect);
  for (const lens of EYES) {
    const shot = set.shots[lens];
    const theta = trueParameters(shot.camera, shotTruth(set.scene, shot).photoFromChart);
    const weights = weightTables(shot.sensor);
    for (const mark of chart.marks) addMark(sums, theta, shot, light[lens], mark, weights);
  }
  return sums;
}

function addMark(
  sums: Record<Detector, Record<Region, Matrix>>,
  theta: readonly number[],
  shot: Shot,
  light: Raster,
  mark: Mark,
  weights: Record<Detector, (light: number) => number>,
): void {
  const first = mark.eye === 'left' ? 0 : 8;
  const { centre, pxFromChart, ihFromPx } = localShape(theta, shot, first, mark);
  const crossing = MARK_PROPORTIONS.crossing * mark.radius;
  const perIh_px = Math.sqrt(Math.abs(pxFromChart[0] * pxFromChart[3] - pxFromChart[1] * pxFromChart[2]));
  const rings: Ring[] = [crossing - (BLUR_REACH * shot.defocus_px) / perIh_px, crossing, mark.radius].map((radius) => ({
    radius,
    luma: createMatrix(LOCAL, LOCAL),
    channels: createMatrix(LOCAL, LOCAL),
  }));
  addLocalInformation(light, { centre, ihFromPx }, rings, weights);
  const local = localDerivatives(theta, shot, first, mark, ihFromPx);
  // A region holds the rings within it.
  REGIONS.forEach((region, outermost) => {
    for (const ring of rings.slice(0, outermost + 1)) {
      for (const detector of DETECTORS) addPropagated(sums[detector][region], local, ring[detector]);
    }
  });
}

type Affine = readonly [number, number, number, number];

function localShape(theta: readonly number[], shot: Shot, first: number, mark: Mark) {
  const step = 1e-4;
  const at = (dx: number, dy: number) => locate(theta, shot.camera, first, { x: mark.x + dx, y: mark.y + dy });
  const difference = (a: Point, b: Point) => [(a.x - b.x) / (2 * step), (a.y - b.y) / (2 * step)] as const;
  const [xx, yx] = difference(at(step, 0), at(-step, 0));
  const [xy, yy] = difference(at(0, step), at(0, -step));
  const determinant = xx * yy - xy * yx;
  const ihFromPx: Affine = [yy / determinant, -xy / determinant, -yx / determinant, xx / determinant];
  return { centre: at(0, 0), pxFromChart: [xx, xy, yx, yy] as Affine, ihFromPx };
}

/**
 * How each parameter moves the surroundings of a mark, u(p) = t + A (p - centre), px: rows t_x, t_y, A_xx, A_xy, A_yx,
 * A_yy, one column for each parameter.
 */
function localDerivatives(theta: readonly number[], shot: Shot, first: number, mark: Mark, ihFromPx: Affine): Matrix {
  const local = createMatrix(LOCAL, PARAMETERS);
  const step = 1e-5;
  const h = mark.radius / 2;
  const own = [...Array.from({ length: 8 }, (_, k) => first + k), ...LENS_PRIOR.map((_, k) => LENS_AT + k)];
  for (const k of own) {
    const plus = theta.map((v, i) => (i === k ? v + step : v));
    const minus = theta.map((v, i) => (i === k ? v - step : v));
    const motion = (dx: number, dy: number): Point => {
      const c = { x: mark.x + dx, y: mark.y + dy };
      const a = locate(plus, shot.camera, first, c);
      const b = locate(minus, shot.camera, first, c);
      return { x: (a.x - b.x) / (2 * step), y: (a.y - b.y) / (2 * step) };
    };
    const [e, w, n, s] = [motion(h, 0), motion(-h, 0), motion(0, h), motion(0, -h)];
    const along = (axis: 'x' | 'y') => [(e[axis] - w[axis]) / (2 * h), (n[axis] - s[axis]) / (2 * h)] as const;
    const t = motion(0, 0);
    const [xByX, xByY] = along('x');
    const [yByX, yByY] = along('y');
    const [a, b, c, d] = ihFromPx;
    const column = [t.x, t.y, xByX * a + xByY * c, xByX * b + xByY * d, yByX * a + yByY * c, yByX * b + yByY * d];
    column.forEach((v, r) => {
      local.data[r * PARAMETERS + k] = v;
    });
  }
  return local;
}

/** sum += L^T M L. */
function addPropagated(sum: Matrix, local: Matrix, information: Matrix): void {
  const n = PARAMETERS;
  const half = new Float64Array(LOCAL * n);
  for (let r = 0; r < LOCAL; r++) {
    for (let k = 0; k < LOCAL; k++) {
      const m = information.data[r * LOCAL + k];
      for (let c = 0; c < n; c++) half[r * n + c] += m * local.data[k * n + c];
    }
  }
  for (let k = 0; k < LOCAL; k++) {
    for (let r = 0; r < n; r++) {
      const l = local.data[k * n + r];
      if (l !== 0) for (let c = 0; c < n; c++) sum.data[r * n + c] += l * half[k * n + c];
    }
  }
}

/** What one pixel of the light L tells of a change of L: 1 / variance, for each detector. */
export function pixelWeights(sensor: Sensor, light: number): Record<Detector, number> {
  const luma = [LUMA_WEIGHTS.red, LUMA_WEIGHTS.green, LUMA_WEIGHTS.blue];
  let channels = 0;
  let slope = 0;
  let lumaVariance = 0;
  for (let c = 0; c < 3; c++) {
    const fullScale = sensor.fullWell_e * sensor.channelSensitivity[c];
    const tint = sensor.tint[c];
    const electrons = Math.max(0, light) * fullScale + sensor.readNoise_e ** 2;
    const variance = electrons * (tint / fullScale) ** 2 + codingStep(light * tint) ** 2 / 12;
    channels += tint ** 2 / variance;
    slope += luma[c] * tint;
    lumaVariance += luma[c] ** 2 * variance;
  }
  return { luma: slope ** 2 / lumaVariance, channels };
}

/** Linear light of one step of 8-bit sRGB coding at the light L (IEC 61966-2-1:1999). */
function codingStep(light: number): number {
  const slope = light <= 0.0031308 ? 12.92 : (1.055 / 2.4) * light ** (1 / 2.4 - 1);
  return 1 / (255 * slope);
}

/** The weights at every 1/8192 of full light. */
function weightTables(sensor: Sensor): Record<Detector, (light: number) => number> {
  const steps = 8192;
  const table = Array.from({ length: steps + 1 }, (_, i) => pixelWeights(sensor, i / steps));
  const look = (detector: Detector) => {
    const weights = Float64Array.from(table, (entry) => entry[detector]);
    return (light: number) => {
      const place = Math.min(Math.max(light, 0), 1) * steps;
      const i = Math.min(steps - 1, Math.floor(place));
      return weights[i] + (place - i) * (weights[i + 1] - weights[i]);
    };
  };
  return { luma: look('luma'), channels: look('channels') };
}
