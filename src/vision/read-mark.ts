/**
 * Reads one mark: from a rough place of a crossing to the code word in its ring.
 *
 * Around a crossing the picture changes four times between bright and dark. The places of the changes give the two
 * edges e1, e2; where the bright quadrants end gives how long each edge is. An edge pair is a frame for everything in
 * the mark: with chart directions f1, f2 (45 degrees clockwise and counter-clockwise of the bright axis) and the
 * crossing's radius as unit, a point s f1 + t f2 of the mark is seen at
 *
 *   p = c + s a1 + t a2        a1, a2 = the edges as seen, in photo pixels
 *
 * This holds however obliquely the mark is seen, because the view of something so small is very nearly affine.
 * A boundary point p of a bright quadrant has s^2 + t^2 = 1: a linear equation for the squares of the lengths.
 */
import type { LightSampler } from '../imaging/luminance.ts';
import type { Point } from '../kernel/point.ts';
import { MARK_PROPORTIONS } from '../target/chart.ts';
import { CODE_SECTORS } from '../target/codebook.ts';

/** A mark as read, before anything is known of the chart. */
export interface ReadMark {
  /** Crossing, photo px. */
  readonly centre: Point;
  /** The seen edges, photo px, of the crossing's length; a2 lies counter-clockwise of a1 across a bright quadrant. */
  readonly a1: Point;
  readonly a2: Point;
  /** Ring sectors read counter-clockwise from the bright axis; bit j as in codebook.ts. */
  readonly word: number;
  /** Bright minus dark on a circle around the crossing, linear light. */
  readonly contrast: number;
  /** Sectors whose brightness lay too close to the middle to be sure of. */
  readonly doubtful: number;
}

const CIRCLE_SAMPLES = 48;
const RAYS_PER_QUADRANT = 9;
/** Linear light; five 8-bit codes next to black. */
const MIN_CONTRAST = 0.0015;
/** Bright quadrants end at the crossing's radius; sectors of the ring lie at these multiples of it. */
const RING_MIDDLE = (MARK_PROPORTIONS.ringInner + MARK_PROPORTIONS.ringOuter) / 2 / MARK_PROPORTIONS.crossing;
const RING_SAMPLES = [RING_MIDDLE * 0.95, RING_MIDDLE, RING_MIDDLE * 1.05];
const MAX_CROSSING_PX = 260;

interface Circle {
  /** Edge angles, counter-clockwise as seen, radians: a dark-to-bright change and the following bright-to-dark change. */
  readonly rising: number;
  readonly falling: number;
  readonly middle: number;
  readonly contrast: number;
}

/** Reads the mark whose crossing lies near `near` (photo px), or undefined where there is none. `start_px`: radius of the first look. */
export function readMark(sample: LightSampler, near: Point, start_px: number): ReadMark | undefined {
  const first = lookAround(sample, near, start_px);
  if (!first) return undefined;
  const ends = findQuadrantEnds(sample, near, first, start_px);
  if (!ends) return undefined;
  const frame = fitFrame(ends, first);
  if (!frame) return undefined;

  // A second look at half the crossing's size sees the edges far better than the first.
  const half = 0.5 * Math.min(Math.hypot(frame.a1.x, frame.a1.y), Math.hypot(frame.a2.x, frame.a2.y));
  const centre = half > 1.5 * start_px ? recentre(sample, near, half) : near;
  const second = lookAround(sample, centre, Math.max(half, start_px));
  if (!second) return undefined;
  const ends2 = findQuadrantEnds(sample, centre, second, Math.max(half, start_px));
  const frame2 = ends2 && fitFrame(ends2, second);
  if (!frame2) return undefined;
  return readRing(sample, centre, frame2, second);
}

function direction(angle: number): Point {
  return { x: Math.cos(angle), y: -Math.sin(angle) };
}

/** Walks once around; undefined unless the walk meets exactly two bright and two dark stretches, opposite each other. */
function lookAround(sample: LightSampler, centre: Point, radius: number): Circle | undefined {
  const values = new Float64Array(CIRCLE_SAMPLES);
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < CIRCLE_SAMPLES; k++) {
    const d = direction((2 * Math.PI * k) / CIRCLE_SAMPLES);
    const v = sample(centre.x + radius * d.x, centre.y + radius * d.y);
    if (!(v >= 0)) return undefined;
    values[k] = v;
    if (v < least) least = v;
    if (v > most) most = v;
  }
  const contrast = most - least;
  if (contrast < MIN_CONTRAST) return undefined;
  const middle = (least + most) / 2;
  const rises: number[] = [];
  const falls: number[] = [];
  for (let k = 0; k < CIRCLE_SAMPLES; k++) {
    const here = values[k] - middle;
    const next = values[(k + 1) % CIRCLE_SAMPLES] - middle;
    if (here < 0 === next < 0) continue;
    const angle = (2 * Math.PI * (k + here / (here - next))) / CIRCLE_SAMPLES;
    (here < 0 ? rises : falls).push(angle);
  }
  if (rises.length !== 2 || falls.length !== 2) return undefined;
  const rising = meanOfOpposites(rises[0], rises[1]);
  const falling = meanOfOpposites(falls[0], falls[1]);
  if (rising === undefined || falling === undefined) return undefined;
  // The bright quadrant is the one entered at `rising`; it must be left within the following half turn.
  const width = (((falling - rising) % Math.PI) + Math.PI) % Math.PI;
  if (width < 0.35 || width > Math.PI - 0.35) return undefined;
  return { rising, falling: rising + width, middle, contrast };
}

/** Two changes of one kind lie half a turn apart; their common edge angle modulo half a turn. */
function meanOfOpposites(a: number, b: number): number | undefined {
  const apart = b - a - Math.PI;
  const error = Math.atan2(Math.sin(apart), Math.cos(apart));
  return Math.abs(error) < 0.6 ? a + error / 2 : undefined;
}

/** Moves the centre so that opposite edges line up on a wider circle: the crossing of the two edge lines. */
function recentre(sample: LightSampler, near: Point, radius: number): Point {
  const shift = edgeShift(sample, near, radius);
  return shift ? { x: near.x + shift.x, y: near.y + shift.y } : near;
}

/** Intersection of the two lines through opposite brightness changes on a circle, relative to its centre. */
function edgeShift(sample: LightSampler, centre: Point, radius: number): Point | undefined {
  const samples = 2 * CIRCLE_SAMPLES;
  const values: number[] = [];
  for (let k = 0; k < samples; k++) {
    const d = direction((2 * Math.PI * k) / samples);
    values.push(sample(centre.x + radius * d.x, centre.y + radius * d.y));
  }
  const middle = (Math.min(...values) + Math.max(...values)) / 2;
  const changes: Point[] = [];
  for (let k = 0; k < samples; k++) {
    const here = values[k] - middle;
    const next = values[(k + 1) % samples] - middle;
    if (Number.isNaN(here) || here < 0 === next < 0) continue;
    const d = direction((2 * Math.PI * (k + here / (here - next))) / samples);
    changes.push({ x: radius * d.x, y: radius * d.y });
  }
  if (changes.length !== 4) return undefined;
  const [p, q, r, s] = changes;
  const u = { x: r.x - p.x, y: r.y - p.y };
  const v = { x: s.x - q.x, y: s.y - q.y };
  const determinant = u.x * v.y - u.y * v.x;
  if (Math.abs(determinant) < 1e-6) return undefined;
  const t = ((q.x - p.x) * v.y - (q.y - p.y) * v.x) / determinant;
  return { x: p.x + t * u.x, y: p.y + t * u.y };
}

/** Outer ends of the bright quadrants along rays, relative to the centre, photo px. */
function findQuadrantEnds(sample: LightSampler, centre: Point, circle: Circle, from_px: number): Point[] | undefined {
  const ends: Point[] = [];
  const width = circle.falling - circle.rising;
  for (let side = 0; side < 2; side++) {
    for (let k = 0; k < RAYS_PER_QUADRANT; k++) {
      const part = 0.2 + (0.6 * k) / (RAYS_PER_QUADRANT - 1);
      const d = direction(circle.rising + side * Math.PI + part * width);
      const end = walkToDark(sample, centre, d, from_px, circle.middle);
      if (end !== undefined) ends.push({ x: end * d.x, y: end * d.y });
    }
  }
  return ends.length >= RAYS_PER_QUADRANT ? ends : undefined;
}

function walkToDark(
  sample: LightSampler,
  centre: Point,
  d: Point,
  from_px: number,
  middle: number,
): number | undefined {
  let before = sample(centre.x + from_px * d.x, centre.y + from_px * d.y);
  if (!(before > middle)) return undefined;
  for (let r = from_px + 1; r < MAX_CROSSING_PX; r++) {
    const here = sample(centre.x + r * d.x, centre.y + r * d.y);
    if (Number.isNaN(here)) return undefined;
    if (here < middle) return r - 1 + (before - middle) / (before - here);
    before = here;
  }
  return undefined;
}

/** Lengths of the edges from the ends of the quadrants: least squares for 1/|a1|^2 and 1/|a2|^2, outlying rays left out once. */
function fitFrame(ends: readonly Point[], circle: Circle): { a1: Point; a2: Point } | undefined {
  const e1 = direction(circle.rising);
  const e2 = direction(circle.falling);
  const determinant = e1.x * e2.y - e1.y * e2.x;
  const squares = ends.map((p) => {
    const s = (p.x * e2.y - p.y * e2.x) / determinant;
    const t = (e1.x * p.y - e1.y * p.x) / determinant;
    return [s * s, t * t] as const;
  });
  let used = squares;
  for (let round = 0; round < 2; round++) {
    let ss = 0;
    let st = 0;
    let tt = 0;
    let s1 = 0;
    let t1 = 0;
    for (const [s, t] of used) {
      ss += s * s;
      st += s * t;
      tt += t * t;
      s1 += s;
      t1 += t;
    }
    const d = ss * tt - st * st;
    if (!(d > 1e-9 * ss * tt)) return undefined;
    const u = (s1 * tt - t1 * st) / d;
    const v = (t1 * ss - s1 * st) / d;
    if (!(u > 0 && v > 0)) return undefined;
    const fits = used.filter(([s, t]) => Math.abs(u * s + v * t - 1) < 0.3);
    if (fits.length < RAYS_PER_QUADRANT) return undefined;
    if (fits.length === used.length || round === 1) {
      const l1 = 1 / Math.sqrt(u);
      const l2 = 1 / Math.sqrt(v);
      return { a1: { x: l1 * e1.x, y: l1 * e1.y }, a2: { x: l2 * e2.x, y: l2 * e2.y } };
    }
    used = fits;
  }
  return undefined;
}

function readRing(
  sample: LightSampler,
  centre: Point,
  { a1, a2 }: { a1: Point; a2: Point },
  { middle, contrast }: Circle,
): ReadMark | undefined {
  let word = 0;
  let doubtful = 0;
  for (let j = 0; j < CODE_SECTORS; j++) {
    let sum = 0;
    let n = 0;
    for (const part of [0.35, 0.5, 0.65]) {
      const angle = (2 * Math.PI * (j + part)) / CODE_SECTORS;
      const s = Math.cos(angle + Math.PI / 4);
      const t = Math.cos(angle - Math.PI / 4);
      for (const radius of RING_SAMPLES) {
        const v = sample(centre.x + radius * (s * a1.x + t * a2.x), centre.y + radius * (s * a1.y + t * a2.y));
        if (Number.isNaN(v)) return undefined;
        sum += v;
        n++;
      }
    }
    const level = (sum / n - middle) / contrast;
    if (level > 0) word |= 1 << j;
    if (Math.abs(level) < 0.12) doubtful++;
  }
  return doubtful > 4 ? undefined : { centre, a1, a2, word, contrast, doubtful };
}
