/**
 * The bright rectangle of an open gate in a photograph: light on the screen and no film in the gate, so there is no mark.
 *
 *   codes of a reduced picture -> two classes (Otsu) -> the largest bright piece -> its four sides as lines -> corners
 *
 * The threshold stands a quarter of the way from the dark to the bright class, in codes, so that corners with a twentieth
 * of the light of the middle still belong to the picture. Sides are fitted to the outline's middle parts and outlying
 * points (a head, a rounded corner of the plate) are left out. Corners are known to about a pixel of the reduced picture,
 * 0.2 % of the photograph's width, which is enough to say where light was sampled and for nothing finer.
 *
 * Photo points in px; centre of the top-left pixel is 0, 0, y down.
 *
 * Reference: Otsu, A threshold selection method from gray-level histograms, IEEE Trans. SMC 9 (1979).
 */
import { coarseLuminance, type CoarseLuminance } from '../imaging/luminance.ts';
import type { Pixels } from '../imaging/pixels.ts';
import { LINEAR_FROM_8BIT } from '../imaging/srgb.ts';
import type { Point } from '../kernel/point.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { medianAbsoluteDeviation } from '../kernel/statistics.ts';

export interface BrightPicture {
  readonly outcome: 'found';
  /** Upper left, upper right, lower right, lower left. */
  readonly corners: readonly [Point, Point, Point, Point];
  /** Light beside the picture over the light of the picture, means: stray light and black level together. */
  readonly surround: number;
}

export type BrightPictureRefusal = Refusal<'no-bright-picture' | 'picture-cut-off' | 'picture-not-rectangular'>;

/** The reduced picture is about so wide. */
const COARSE_WIDTH = 500;
const THRESHOLD_PART = 0.25;
/** Light beside the picture, over the picture's, from which nothing stands out any more. */
const MAX_SURROUND = 0.25;
/** Of the frame's width. */
const MIN_WIDTH = 0.2;
/** Of the rectangle's area that must be bright, and of the bright piece that must lie in the rectangle. */
const MIN_FILLED = 0.95;
/** Sides are fitted to this middle part of them. */
const SIDE_PART = 0.8;
const OUTLIER_DEVIATIONS = 3;

/**
 *
 *
 * @example
 * const found = findBrightPicture(photo.pixels);
 * if (found.outcome === 'refused') return found;
 */
export function findBrightPicture(pixels: Pixels): BrightPicture | BrightPictureRefusal {
  const factor = Math.max(1, Math.round(pixels.width / COARSE_WIDTH));
  const coarse = coarseLuminance(pixels, factor);
  const classes = splitInTwo(coarse.data);
  if (!classes || classes.surround > MAX_SURROUND) return refuse('no-bright-picture');
  const threshold = classes.dark + THRESHOLD_PART * (classes.bright - classes.dark);
  const piece = largestPiece(coarse, threshold);
  const bounds = boundsOf(piece, coarse);
  if (bounds.right - bounds.left < MIN_WIDTH * coarse.width) return refuse('no-bright-picture');
  if (
    bounds.left === 0 ||
    bounds.top === 0 ||
    bounds.right === coarse.width - 1 ||
    bounds.bottom === coarse.height - 1
  ) {
    return refuse('picture-cut-off');
  }
  const corners = fitCorners(piece, coarse, bounds);
  const filled = corners ? filledPart(piece, coarse, corners) : 0;
  if (!corners || filled < MIN_FILLED) return refuse('picture-not-rectangular', { filled_pct: 100 * filled });
  const toPhoto = ({ x, y }: Point): Point => ({ x: (x + 0.5) * factor - 0.5, y: (y + 0.5) * factor - 0.5 });
  const [a, b, c, d] = corners.map(toPhoto);
  return { outcome: 'found', corners: [a, b, c, d], surround: classes.surround };
}

interface Classes {
  /** Mean codes. */
  readonly dark: number;
  readonly bright: number;
  /** Mean light of the dark class over that of the bright one. */
  readonly surround: number;
}

/** The split of the codes with the largest variance between the classes; `undefined` for a picture of one code. */
function splitInTwo(codes: Uint8Array): Classes | undefined {
  const histogram = new Float64Array(256);
  for (const code of codes) histogram[code]++;
  const total = histogram.reduce((sum, n, code) => sum + n * code, 0);
  let best = { between: 0, threshold: -1 };
  let [count, sum] = [0, 0];
  for (let code = 0; code < 255; code++) {
    count += histogram[code];
    sum += histogram[code] * code;
    const rest = codes.length - count;
    if (count === 0 || rest === 0) continue;
    const between = count * rest * (sum / count - (total - sum) / rest) ** 2;
    if (between > best.between) best = { between, threshold: code };
  }
  if (best.threshold < 0) return undefined;
  const meanOver = (from: number, to: number, of: (code: number) => number) => {
    let [n, all] = [0, 0];
    for (let code = from; code <= to; code++) {
      n += histogram[code];
      all += histogram[code] * of(code);
    }
    return all / n;
  };
  const [low, high] = [[0, best.threshold] as const, [best.threshold + 1, 255] as const];
  const light = (code: number) => LINEAR_FROM_8BIT[code];
  return {
    dark: meanOver(...low, (code) => code),
    bright: meanOver(...high, (code) => code),
    surround: meanOver(...low, light) / meanOver(...high, light),
  };
}

/** The largest set of bright pixels that touch at their sides: one byte per pixel, 1 for its pixels. */
function largestPiece({ width, height, data }: CoarseLuminance, threshold: number): Uint8Array {
  const labels = new Int32Array(width * height);
  const sizes = [0];
  const stack: number[] = [];
  for (let start = 0; start < data.length; start++) {
    if (labels[start] !== 0 || data[start] <= threshold) continue;
    const label = sizes.push(0) - 1;
    labels[start] = label;
    stack.push(start);
    while (stack.length > 0) {
      const at = stack.pop()!;
      sizes[label]++;
      const x = at % width;
      const near = [x > 0 ? at - 1 : -1, x < width - 1 ? at + 1 : -1, at - width, at + width];
      for (const next of near) {
        if (next < 0 || next >= data.length || labels[next] !== 0 || data[next] <= threshold) continue;
        labels[next] = label;
        stack.push(next);
      }
    }
  }
  const largest = sizes.indexOf(Math.max(...sizes.slice(1)), 1);
  return Uint8Array.from(labels, (label) => (label === largest ? 1 : 0));
}

interface Bounds {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

function boundsOf(piece: Uint8Array, { width }: CoarseLuminance): Bounds {
  let [left, right, top, bottom] = [width, -1, Number.POSITIVE_INFINITY, -1];
  for (let i = 0; i < piece.length; i++) {
    if (!piece[i]) continue;
    const [x, y] = [i % width, Math.floor(i / width)];
    left = Math.min(left, x);
    right = Math.max(right, x);
    top = Math.min(top, y);
    bottom = Math.max(bottom, y);
  }
  return { left, right, top, bottom };
}

/** v = offset + slope * u: a level side as y of x, an upright side as x of y. */
interface Side {
  readonly offset: number;
  readonly slope: number;
}

function fitCorners(piece: Uint8Array, { width }: CoarseLuminance, bounds: Bounds): Point[] | undefined {
  const isBright = (x: number, y: number) => piece[y * width + x] === 1;
  const middle = (from: number, to: number): number[] => {
    const cut = ((1 - SIDE_PART) / 2) * (to - from);
    const [first, last] = [Math.ceil(from + cut), Math.floor(to - cut)];
    return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => first + i);
  };
  /** Walks inward from the bounds to the first bright pixel; its outer side is the edge. */
  const edge = (along: readonly number[], from: number, to: number, at: (u: number, v: number) => boolean) => {
    const step = Math.sign(to - from);
    return along.flatMap((u) => {
      for (let v = from; v !== to; v += step) if (at(u, v)) return [{ u, v: v - step / 2 }];
      return [];
    });
  };
  const columns = middle(bounds.left, bounds.right);
  const rows = middle(bounds.top, bounds.bottom);
  const level = (x: number, y: number) => isBright(x, y);
  const upright = (y: number, x: number) => isBright(x, y);
  const top = fitSide(edge(columns, bounds.top, bounds.bottom, level));
  const bottom = fitSide(edge(columns, bounds.bottom, bounds.top, level));
  const left = fitSide(edge(rows, bounds.left, bounds.right, upright));
  const right = fitSide(edge(rows, bounds.right, bounds.left, upright));
  if (!top || !bottom || !left || !right) return undefined;
  return [cross(top, left), cross(top, right), cross(bottom, right), cross(bottom, left)];
}

function fitSide(points: readonly { readonly u: number; readonly v: number }[]): Side | undefined {
  let kept = points;
  let side: Side | undefined;
  for (let round = 0; round < 4 && kept.length >= 3; round++) {
    const n = kept.length;
    const mu = kept.reduce((sum, { u }) => sum + u, 0) / n;
    const mv = kept.reduce((sum, { v }) => sum + v, 0) / n;
    const suu = kept.reduce((sum, { u }) => sum + (u - mu) ** 2, 0);
    const suv = kept.reduce((sum, { u, v }) => sum + (u - mu) * (v - mv), 0);
    if (suu === 0) return undefined;
    side = { slope: suv / suu, offset: mv - (suv / suu) * mu };
    const { slope, offset } = side;
    const residual = ({ u, v }: { u: number; v: number }) => v - offset - slope * u;
    const spread = Math.max(0.5, medianAbsoluteDeviation(kept.map(residual)));
    kept = points.filter((point) => Math.abs(residual(point)) <= OUTLIER_DEVIATIONS * spread);
  }
  return side;
}

/** y = a + b x on the level side, x = c + d y on the upright one. */
function cross({ offset: a, slope: b }: Side, { offset: c, slope: d }: Side): Point {
  const y = (a + b * c) / (1 - b * d);
  return { x: c + d * y, y };
}

/** Bright part of the quadrilateral, or part of the piece that lies in it: the smaller of the two. */
function filledPart(piece: Uint8Array, { width, height }: CoarseLuminance, corners: readonly Point[]): number {
  let [inside, both, bright] = [0, 0, 0];
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const isInside = corners.every((a, i) => {
        const b = corners[(i + 1) % 4];
        return (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x) >= 0;
      });
      const isBright = piece[y * width + x] === 1;
      if (isInside) inside++;
      if (isBright) bright++;
      if (isInside && isBright) both++;
    }
  }
  return inside === 0 || bright === 0 ? 0 : both / Math.max(inside, bright);
}
