/**
 * Movements of the view as a Gaussian process: what film, wedge, camera and waves do to a place of a photograph, and what
 * displacements that were seen leave of it. The kinds of movement stand in estimate-movement.ts.
 */
import { choleskyFactor, createMatrix, elementAt, type Matrix } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import type { Displacement } from './check-steadiness.ts';

/** Correlation lengths of waves, half of their variance each: a seat's glasses are wavy on any scale, ih. */
const WAVE_LENGTHS_IH = [0.35, 1] as const;
/** A place of a picture in a photograph. */
export interface SeenPlace {
  /** Photo px. */
  readonly at: Point;
  /** Chart, ih. */
  readonly chart: Point;
  /** J: `[dpx/dx, dpx/dy, dpy/dx, dpy/dy]`, px per ih. */
  readonly slope: readonly [number, number, number, number];
}

/** A displacement with where it stands on the chart and how the photograph shows the chart there. */
export interface ChartDisplacement extends Displacement, SeenPlace {
  readonly at: Point;
}

/** Standard uncertainties before any ghost was looked at; nothing of a kind where it is 0. */
export interface MovementPrior {
  /** Of the picture on the screen: up, right, ih; turn, radians. */
  readonly film: readonly [up: number, right: number, turn: number];
  /** Of the view: up, right, ih at the picture's middle; turn, radians; size, a fraction; keystone, fractions per ih. */
  readonly view: readonly [up: number, right: number, turn: number, size: number, keyH: number, keyV: number];
  /** Waves as large as they may be, px, standard deviation in each direction; none where left out. */
  readonly waves_px?: number | undefined;
  /** And as large as they must be taken to be at least, whatever the displacements say. */
  readonly leastWaves_px?: number | undefined;
}

/** The unit of the photograph's frame: the middle of the picture and how large it is there. */
export interface PhotoFrame {
  readonly middle: Point;
  readonly perIh_px: number;
  readonly slope: SeenPlace['slope'];
}

export interface MovementLevels {
  readonly prior: MovementPrior;
  readonly waves_px: number;
  readonly scatter: number;
}

/** `undefined` without displacements: then every place is its own measure. */
export function frameOf(displacements: readonly SeenPlace[]): PhotoFrame | undefined {
  if (displacements.length === 0) return undefined;
  const middle = displacements.reduce((best, d) =>
    Math.hypot(d.chart.x, d.chart.y) < Math.hypot(best.chart.x, best.chart.y) ? d : best,
  );
  return photoFrame(middle);
}

function photoFrame({ at, slope, chart: { x, y } }: SeenPlace): PhotoFrame {
  const [xx, xy, yx, yy] = slope;
  return {
    middle: { x: at.x - xx * x - xy * y, y: at.y - yx * x - yy * y },
    perIh_px: Math.sqrt(Math.abs(xx * yy - xy * yx)),
    slope,
  };
}

/** What each kind of movement does to a place, px, times its standard uncertainty. */
export function modesAt(place: SeenPlace, frame: PhotoFrame | undefined, { film, view }: MovementPrior) {
  const { at, chart, slope } = place;
  const { middle, slope: m } = frame ?? photoFrame(place);
  const through = ([xx, xy, yx, yy]: SeenPlace['slope'], x: number, y: number) => [xx * x + xy * y, yx * x + yy * y];
  // Turned the way that turns the chart counter-clockwise: the photograph's y points down.
  const way = m[0] * m[3] - m[1] * m[2] < 0 ? 1 : -1;
  const [dx, dy] = [at.x - middle.x, at.y - middle.y];
  const all = [
    [film[0], through(slope, 0, 1)],
    [film[1], through(slope, 1, 0)],
    [film[2], through(slope, -chart.y, chart.x)],
    [view[0], through(m, 0, 1)],
    [view[1], through(m, 1, 0)],
    [view[2], [way * dy, -way * dx]],
    [view[3], [dx, dy]],
    [view[4], through(slope, chart.x * chart.x, chart.x * chart.y)],
    [view[5], through(slope, chart.x * chart.y, chart.y * chart.y)],
  ] as const;
  return { x: all.map(([u, v]) => u * v[0]), y: all.map(([u, v]) => u * v[1]) };
}

/** How alike waves are at two places: Matern of order 3/2 over two lengths. */
export function correlationOf(a: Point, b: Point, frame: PhotoFrame | undefined): number {
  const distance = Math.hypot(a.x - b.x, a.y - b.y);
  if (distance === 0 || !frame) return distance === 0 ? 1 : 0;
  let sum = 0;
  for (const length of WAVE_LENGTHS_IH) {
    const far = (Math.sqrt(3) * distance) / (length * frame.perIh_px);
    sum += (1 + far) * Math.exp(-far);
  }
  return sum / WAVE_LENGTHS_IH.length;
}

export interface Conditioned {
  readonly factor: Matrix;
  readonly alpha: Float64Array;
  /** The modes' amplitudes, in their own standard uncertainties. */
  readonly modes: Float64Array;
  readonly logEvidence: number;
}

export function conditionMovement(
  displacements: readonly ChartDisplacement[],
  weights: readonly number[],
  frame: PhotoFrame | undefined,
  { prior, waves_px, scatter }: MovementLevels,
): Conditioned {
  const n = 2 * displacements.length;
  const design = displacements.map((d) => modesAt(d, frame, prior));
  const covariance = createMatrix(n, n);
  const { data } = covariance;
  displacements.forEach(({ at, u }, i) => {
    for (let j = 0; j <= i; j++) {
      const alike = waves_px > 0 ? waves_px ** 2 * correlationOf(at, displacements[j].at, frame) : 0;
      const [xx, xy, yx, yy] = products(design[i], design[j]);
      data[2 * i * n + 2 * j] = xx + alike;
      data[2 * i * n + 2 * j + 1] = xy;
      data[(2 * i + 1) * n + 2 * j] = yx;
      data[(2 * i + 1) * n + 2 * j + 1] = yy + alike;
    }
    const part = scatter ** 2 / weights[i];
    data[2 * i * n + 2 * i] += part * u.x ** 2;
    data[(2 * i + 1) * n + 2 * i + 1] += part * u.y ** 2;
  });
  const factor = n === 0 ? covariance : choleskyFactor(covariance);
  if (!factor) throw new RangeError('displacements without uncertainty');
  const alpha = Float64Array.from({ length: n }, (_, r) => {
    const { shift } = displacements[r >> 1];
    return r % 2 === 0 ? shift.x : shift.y;
  });
  forward(factor, alpha);
  let logEvidence = 0;
  for (let r = 0; r < n; r++) logEvidence -= alpha[r] ** 2 / 2 + Math.log(elementAt(factor, r, r));
  for (let r = n - 1; r >= 0; r--) {
    for (let k = r + 1; k < n; k++) alpha[r] -= factor.data[k * n + r] * alpha[k];
    alpha[r] /= factor.data[r * n + r];
  }
  const modes = new Float64Array(prior.film.length + prior.view.length);
  design.forEach(({ x, y }, i) => {
    for (let k = 0; k < modes.length; k++) modes[k] += x[k] * alpha[2 * i] + y[k] * alpha[2 * i + 1];
  });
  return { factor, alpha, modes, logEvidence };
}

type Modes = ReturnType<typeof modesAt>;

function products(a: Modes, b: Modes): readonly [number, number, number, number] {
  let [xx, xy, yx, yy] = [0, 0, 0, 0];
  for (let k = 0; k < a.x.length; k++) {
    xx += a.x[k] * b.x[k];
    xy += a.x[k] * b.y[k];
    yx += a.y[k] * b.x[k];
    yy += a.y[k] * b.y[k];
  }
  return [xx, xy, yx, yy];
}

/** Solves L x = b in place. */
function forward({ rows: n, data }: Matrix, b: Float64Array): void {
  for (let r = 0; r < n; r++) {
    let sum = b[r];
    for (let k = 0; k < r; k++) sum -= data[r * n + k] * b[k];
    b[r] = sum / data[r * n + r];
  }
}

/** F (K - K_o A^-1 K_o^T) F^T. */
export function leftCovariance(
  { factor }: Conditioned,
  displacements: readonly ChartDisplacement[],
  given: PhotoFrame | undefined,
  { prior, waves_px }: MovementLevels,
  functions: Matrix,
  places: readonly SeenPlace[],
): Matrix {
  const frame = given ?? frameOf(places);
  const { rows, cols } = functions;
  const n = 2 * displacements.length;
  const own = places.map((place) => modesAt(place, frame, prior));
  const seen = displacements.map((d) => modesAt(d, frame, prior));
  const modes = own[0]?.x.length ?? 0;
  // Modes and waves are kept apart: what the functions make of each, then what the displacements share with it.
  const byModes = Array.from({ length: rows }, (_, r) =>
    Float64Array.from({ length: modes }, (__, k) =>
      own.reduce(
        (sum, { x, y }, i) => sum + elementAt(functions, r, 2 * i) * x[k] + elementAt(functions, r, 2 * i + 1) * y[k],
        0,
      ),
    ),
  );
  const alike = (a: Point, b: Point) => (waves_px > 0 ? waves_px ** 2 * correlationOf(a, b, frame) : 0);
  const withPlaces = createMatrix(rows, cols);
  places.forEach((a, i) => {
    places.forEach((b, j) => {
      const shared = alike(a.at, b.at);
      if (shared === 0) return;
      for (let r = 0; r < rows; r++) {
        withPlaces.data[r * cols + 2 * j] += shared * elementAt(functions, r, 2 * i);
        withPlaces.data[r * cols + 2 * j + 1] += shared * elementAt(functions, r, 2 * i + 1);
      }
    });
  });
  const withSeen = byModes.map((by, r) => {
    const row = new Float64Array(n);
    displacements.forEach(({ at }, j) => {
      for (let k = 0; k < modes; k++) {
        row[2 * j] += by[k] * seen[j].x[k];
        row[2 * j + 1] += by[k] * seen[j].y[k];
      }
      places.forEach((place, i) => {
        const shared = alike(place.at, at);
        row[2 * j] += shared * elementAt(functions, r, 2 * i);
        row[2 * j + 1] += shared * elementAt(functions, r, 2 * i + 1);
      });
    });
    if (n > 0) forward(factor, row);
    return row;
  });
  const covariance = createMatrix(rows, rows);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < rows; c++) {
      let sum = 0;
      for (let k = 0; k < modes; k++) sum += byModes[r]![k] * byModes[c]![k];
      for (let k = 0; k < cols; k++) sum += elementAt(withPlaces, r, k) * elementAt(functions, c, k);
      for (let k = 0; k < n; k++) sum -= withSeen[r]![k] * withSeen[c]![k];
      covariance.data[r * rows + c] = sum;
    }
  }
  return covariance;
}
