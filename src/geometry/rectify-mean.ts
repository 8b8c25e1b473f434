/**
 * The chart frame that the camera pose drops out of.
 *
 * m(c) = (H_L c + H_R c) / 2 is where the mean of the two pictures shows the chart point c. G is the homography that
 * best maps m(c_i) to c_i: it minimises the sum of |G m(c_i) - c_i|^2 over a uniform grid of the picture area.
 */
import type { Homography } from '../kernel/homography.ts';
import { transfer } from '../kernel/homography.ts';
import { choleskySolve, createMatrix } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';

/**
 * A uniform grid of the picture area, its corners included: `columns` x `rows` points, ih.
 *
 * @example
 * pictureGrid(2.35).length; // 861
 */
export function pictureGrid(aspect: number, columns = 41, rows = 21): readonly Point[] {
  const points: Point[] = [];
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      points.push({ x: aspect * (c / (columns - 1) - 0.5), y: r / (rows - 1) - 0.5 });
    }
  }
  return points;
}

/** The linear solution and the Gauss-Newton steps after it; the third changes G by less than 1e-12. */
const ROUNDS = 4;

/**
 * G for two views and a grid. Throws RangeError where the views are degenerate.
 *
 * @example
 * const g = chartFromMean(photoFromChartLeft, photoFromChartRight, pictureGrid(2.35));
 */
export function chartFromMean(
  left: Homography,
  right: Homography,
  grid: readonly Point[],
  rounds: number = ROUNDS,
): Homography {
  const mean = grid.map((c) => {
    const l = transfer(left, c);
    const r = transfer(right, c);
    return { x: (l.x + r.x) / 2, y: (l.y + r.y) / 2 };
  });
  return rectifyPoints(mean, grid, rounds);
}

/** The homography that best maps each mean point to its chart point. Throws RangeError where they are degenerate. */
export function rectifyPoints(mean: readonly Point[], grid: readonly Point[], rounds: number = ROUNDS): Homography {
  // In photo pixels the eight unknowns differ by six powers of ten; centred and scaled they do not.
  const { centre, scale } = spreadOf(mean);
  const from = mean.map((p) => ({ x: (p.x - centre.x) * scale, y: (p.y - centre.y) * scale }));
  let g: Homography = [1, 0, 0, 0, 1, 0, 0, 0, 1];
  for (let round = 0; round < rounds; round++) g = improve(g, from, grid, round === 0);
  // G in photo px = g applied after centring and scaling.
  const [a, b, c, d, e, f, h, i, j] = g;
  const shifted = (p: number, q: number, r: number) => r - scale * (p * centre.x + q * centre.y);
  const raw = [
    a * scale,
    b * scale,
    shifted(a, b, c),
    d * scale,
    e * scale,
    shifted(d, e, f),
    h * scale,
    i * scale,
    shifted(h, i, j),
  ];
  return raw.map((v) => v / raw[8]) as unknown as Homography;
}

function spreadOf(points: readonly Point[]): { centre: Point; scale: number } {
  let x = 0;
  let y = 0;
  for (const p of points) {
    x += p.x / points.length;
    y += p.y / points.length;
  }
  let square = 0;
  for (const p of points) square += ((p.x - x) ** 2 + (p.y - y) ** 2) / points.length;
  return { centre: { x, y }, scale: 1 / Math.sqrt(square / 2) };
}

/** One Gauss-Newton step on the transfer error; the first step is the linear solution instead. */
function improve(g: Homography, from: readonly Point[], to: readonly Point[], linear: boolean): Homography {
  const normal = createMatrix(8, 8);
  const right = new Float64Array(8);
  const row = new Float64Array(8);
  const add = (residual: number) => {
    for (let r = 0; r < 8; r++) {
      right[r] += row[r] * residual;
      for (let c = 0; c <= r; c++) normal.data[r * 8 + c] += row[r] * row[c];
    }
  };
  for (let k = 0; k < from.length; k++) {
    const { x, y } = from[k];
    const w = linear ? 1 : g[6] * x + g[7] * y + 1;
    const seen = linear ? to[k] : transfer(g, from[k]);
    row.fill(0);
    row[0] = x / w;
    row[1] = y / w;
    row[2] = 1 / w;
    row[6] = (-x * seen.x) / w;
    row[7] = (-y * seen.x) / w;
    add(linear ? to[k].x : to[k].x - seen.x);
    row.fill(0);
    row[3] = x / w;
    row[4] = y / w;
    row[5] = 1 / w;
    row[6] = (-x * seen.y) / w;
    row[7] = (-y * seen.y) / w;
    add(linear ? to[k].y : to[k].y - seen.y);
  }
  for (let r = 0; r < 8; r++) for (let c = r + 1; c < 8; c++) normal.data[r * 8 + c] = normal.data[c * 8 + r];
  const step = choleskySolve(normal, right);
  if (!step) throw new RangeError('the two views are degenerate');
  const next = linear ? [...step] : [...step].map((v, i) => g[i] + v);
  return [...next, 1] as unknown as Homography;
}
