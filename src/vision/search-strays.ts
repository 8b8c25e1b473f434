/**
 * Looks for weak displaced copies of an eye's picture, anywhere in the photograph.
 *
 * A copy of half a percent shows no mark by itself to be read, but it has all the marks of the picture, displaced alike. The
 * photograph is laid out on the chart's plane, coarsely, and its crossings are brought out,
 *
 *   R(c) = light above and below c - light left and right of c
 *
 * positive in an upright crossing (left eye), negative in a lying one (right eye). What the pictures themselves light is
 * left out. For each displacement the responses at all marks of an eye are added up; where the sum stands out, the ring
 * sectors of the displaced marks are compared with the words that they must carry. Marks stand on a lattice, so that a
 * displacement wrong by a lattice step has many marks upon marks: their words tell.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import { invert, transfer } from '../kernel/homography.ts';
import type { Point } from '../kernel/point.ts';
import { mean, medianAbsoluteDeviation } from '../kernel/statistics.ts';
import { pixelsPerHeight, project, type View } from '../kernel/view.ts';
import { createLightSampler } from '../imaging/luminance.ts';
import type { Pixels } from '../imaging/pixels.ts';
import { BRIGHT_AXIS_DEG, type Chart, MARK_PROPORTIONS, type Mark } from '../target/chart.ts';
import { CODE_SECTORS } from '../target/codebook.ts';
import { computePlane, type Plane } from './chart-plane.ts';
import { STRAY_RANGE } from './suspect-stray.ts';

export interface FoundStray {
  readonly eye: Eye;
  /** From the picture to its copy, chart ih, good to about a pixel. */
  readonly offset: Point;
  /** The marks whose copies lie clear of the pictures. */
  readonly marks: readonly Mark[];
}

/** The sum of the responses against that of noise. Of 25 000 displacements noise alone reaches 4.5. */
const MIN_DEVIATIONS = 6;
/** And the agreement of the words: none by chance. */
const MIN_WORD_DEVIATIONS = 5;
/** What agrees less than this in its cell is not worth a closer look. */
const WORTH_SETTLING = 2;
const MIN_MARKS = 7;
/** Displacements whose words are compared; a lattice's neighbours come before a second copy. */
const MAX_CANDIDATES = 6;
/** A response counts up to so many standard deviations, so that no lamp speaks for a whole picture. */
const MAX_RESPONSE = 4;
/** Responses are kept as whole numbers, so many to the standard deviation. */
const LEVELS = 16;
/** A third of the darkest step of an 8-bit file, linear light. */
const MIN_NOISE = 1e-4;

/**
 * The strongest copy of each eye's picture.
 *
 * @example
 * const [strongest] = searchStrays(photo.pixels, chart, views);
 */
export function searchStrays(pixels: Pixels, chart: Chart, views: Readonly<Record<Eye, View>>): FoundStray[] {
  const inner = chart.marks.filter((mark) => mark.kind === 'inner');
  if (inner.length === 0) return [];
  const step = 0.37 * MARK_PROPORTIONS.crossing * inner[0]!.radius;
  const plane = computePlane(pixels, chart, views, step, STRAY_RANGE);
  const responses = respond(plane);
  if (!responses) return [];
  const sample = createLightSampler(pixels);
  return EYES.flatMap((eye) => {
    const marks = inner.filter((mark) => mark.eye === eye);
    const onPlane = placeBetween(views.left, views[eye]);
    const cells = marks.map((mark) => plane.cellOf(onPlane(mark)));
    const sign = eye === 'left' ? 1 : -1;
    const view = views[eye];
    const fineness = { step, pixel: 1 / pixelsPerHeight(view) };
    // Light at a place of this eye's chart; nothing where the pictures lie or the photograph ends.
    const lightAt = (at: Point): number => {
      const { x, y } = plane.cellOf(onPlane(at));
      if (!(x >= 0 && y >= 0 && x < plane.width && y < plane.height && plane.free[y * plane.width + x] === 1)) {
        return Number.NaN;
      }
      const seen = project(view, at);
      return sample(seen.x, seen.y);
    };
    const found = highest(responses, plane, cells, sign)
      .map((by): Candidate => {
        // Rows of the plane run downwards.
        const offset = { x: by.x * step, y: -by.y * step };
        const clear = marks.filter((_, i) => isKnown(responses.known, plane, cells[i]!, by));
        return settle(lightAt, { offset, marks: clear, agreement: compareWords(lightAt, clear, offset) }, fineness);
      })
      .filter(({ agreement }) => agreement > MIN_WORD_DEVIATIONS)
      .sort((a, b) => b.agreement - a.agreement)[0];
    return found ? [{ eye, offset: found.offset, marks: found.marks }] : [];
  });
}

/** Linear light at a chart point; NaN where it is not to be had. */
type LightAt = (at: Point) => number;

/** From the chart of one view to the chart plane of another, by what both see. */
function placeBetween(to: View, from: View): (at: Point) => Point {
  if (to === from) return (at) => at;
  const back = invert(to.photoFromChart);
  return (at) => transfer(back, transfer(from.photoFromChart, at));
}

interface Responses {
  /** Whole numbers; 0 where there is none. */
  readonly values: Int8Array;
  /** 1 where there is a response: enough of the cells around are free. */
  readonly known: Uint8Array;
}

/** Of the four cells above and below, and of the four beside, that must be free. */
const MIN_FREE = 2;
/** Every so many-th response is enough to know their spread. */
const SPREAD_STRIDE = 61;
const MIN_RESPONSES = 200;

/** `undefined` where next to nothing is free. */
function respond({ light, free, width, height }: Plane): Responses | undefined {
  const raw = new Float32Array(width * height);
  const known = new Uint8Array(width * height);
  for (let y = 2; y < height - 2; y++) respondAlong(light, free, width, y, raw, known);
  const some: number[] = [];
  for (let i = 0; i < raw.length; i += SPREAD_STRIDE) if (known[i] === 1) some.push(raw[i]);
  if (some.length < MIN_RESPONSES) return undefined;
  // Without any noise the file's own steps are the noise.
  const unit = LEVELS / Math.max(medianAbsoluteDeviation(some), MIN_NOISE);
  return { values: inLevels(raw, unit), known };
}

/** One row: a function of its own, because the engine makes machine code of what is called often. */
function respondAlong(
  light: Float32Array,
  free: Uint8Array,
  width: number,
  row: number,
  raw: Float32Array,
  known: Uint8Array,
): void {
  const two = 2 * width;
  for (let i = row * width + 2, end = (row + 1) * width - 2; i < end; i++) {
    const uprights = free[i - two] + free[i - width] + free[i + width] + free[i + two];
    const lyings = free[i - 2] + free[i - 1] + free[i + 1] + free[i + 2];
    if (uprights < MIN_FREE || lyings < MIN_FREE) continue;
    // Cells that are not free hold no light.
    const upright = light[i - two] + light[i - width] + light[i + width] + light[i + two];
    const lying = light[i - 2] + light[i - 1] + light[i + 1] + light[i + 2];
    raw[i] = upright / uprights - lying / lyings;
    known[i] = 1;
  }
}

function inLevels(raw: Float32Array, unit: number): Int8Array {
  const most = MAX_RESPONSE * LEVELS;
  const values = new Int8Array(raw.length);
  for (let i = 0; i < raw.length; i++) {
    const value = raw[i] * unit;
    values[i] = value > most ? most : value < -most ? -most : Math.round(value);
  }
  return values;
}

interface Cell {
  readonly x: number;
  readonly y: number;
}

/** The displacements with the highest sums that stand out, in cells, the highest first. */
function highest({ values, known }: Responses, plane: Plane, cells: readonly Cell[], sign: number): Cell[] {
  const { width, height, step } = plane;
  const rangeX = Math.round(STRAY_RANGE.x / step);
  const rangeY = Math.round(STRAY_RANGE.y / step);
  const side = 2 * rangeX + 1;
  const sums = new Int16Array(side * (2 * rangeY + 1));
  for (const { x, y } of cells) {
    const firstY = Math.max(-rangeY, -y);
    const lastY = Math.min(rangeY, height - 1 - y);
    const firstX = Math.max(-rangeX, -x);
    const count = Math.min(rangeX, width - 1 - x) - firstX + 1;
    for (let dy = firstY; dy <= lastY; dy++) {
      addLine(sums, (dy + rangeY) * side + firstX + rangeX, values, (y + dy) * width + x + firstX, count);
    }
  }
  const least = sign * MIN_DEVIATIONS * LEVELS * Math.sqrt(MIN_MARKS);
  const found: { x: number; y: number; deviations: number }[] = [];
  for (let i = side; i < sums.length - side; i++) {
    const sum = sign * sums[i];
    if (sum < sign * least || sum < sign * sums[i - 1] || sum < sign * sums[i + 1]) continue;
    if (sum < sign * sums[i - side] || sum < sign * sums[i + side]) continue;
    const at = { x: (i % side) - rangeX, y: Math.floor(i / side) - rangeY };
    const clear = cells.filter((cell) => isKnown(known, plane, cell, at)).length;
    const deviations = sum / (LEVELS * Math.sqrt(Math.max(1, clear)));
    if (clear >= MIN_MARKS && deviations > MIN_DEVIATIONS) found.push({ ...at, deviations });
  }
  return found.sort((a, b) => b.deviations - a.deviations).slice(0, MAX_CANDIDATES);
}

function addLine(sums: Int16Array, to: number, responses: Int8Array, from: number, count: number): void {
  for (let k = 0; k < count; k++) sums[to + k] += responses[from + k];
}

function isKnown(known: Uint8Array, { width, height }: Plane, cell: Cell, by: Cell): boolean {
  const x = cell.x + by.x;
  const y = cell.y + by.y;
  return x >= 0 && y >= 0 && x < width && y < height && known[y * width + x] === 1;
}

interface Candidate {
  readonly offset: Point;
  readonly marks: readonly Mark[];
  /** How well the ring sectors carry the marks' words, in standard deviations of what chance gives. */
  readonly agreement: number;
}

/** How well the rings of the displaced marks carry their words, in standard deviations of what chance gives. */
function compareWords(lightAt: LightAt, marks: readonly Mark[], offset: Point): number {
  let covariance = 0;
  let variance = 0;
  for (const mark of marks) {
    const sectors = ringSectors(lightAt, mark, offset);
    if (sectors.length < MIN_SECTORS) continue;
    // Ranks, not light: a sector in the glow of something bright must not outvote the others.
    const ranked = [...sectors].sort((p, q) => p.light - q.light);
    const middle = (sectors.length - 1) / 2;
    const share = mean(sectors.map(({ bit }) => bit));
    const spread = Math.sqrt((sectors.length * (sectors.length + 1)) / 12);
    for (const [rank, { bit }] of ranked.entries()) {
      covariance += ((rank - middle) * (bit - share)) / spread;
      variance += (bit - share) ** 2;
    }
  }
  return variance > 0 ? covariance / Math.sqrt(variance) : 0;
}

/** Free sectors of a ring that say enough about its word. */
const MIN_SECTORS = 6;

/** The sectors of a displaced mark's ring that are to be seen, with the bit that each must show. */
function ringSectors(lightAt: LightAt, mark: Mark, offset: Point): { readonly light: number; readonly bit: number }[] {
  const { ringInner, ringOuter } = MARK_PROPORTIONS;
  const radius = ((ringInner + ringOuter) / 2) * mark.radius;
  const sectors: { readonly light: number; readonly bit: number }[] = [];
  for (let j = 0; j < CODE_SECTORS; j++) {
    const angle = ((BRIGHT_AXIS_DEG[mark.eye] + ((j + 0.5) * 360) / CODE_SECTORS) * Math.PI) / 180;
    const light = lightAt({
      x: mark.x + offset.x + radius * Math.cos(angle),
      y: mark.y + offset.y + radius * Math.sin(angle),
    });
    if (!Number.isNaN(light)) sectors.push({ light, bit: (mark.word >>> j) & 1 });
  }
  return sectors;
}

/** Bright and dark places of a crossing, as parts of its radius along and across its bright axis. */
const PROBES = [-0.75, -0.5, -0.25, 0.25, 0.5, 0.75];

/**
 * The candidate at the displacement near its own at which its marks' crossings show best, to about a photo pixel, with its
 * words compared there: a cell beside the true place the rings no longer lie on each other. What has no word right in its
 * cell is left as it is.
 */
function settle(
  lightAt: LightAt,
  candidate: Candidate,
  { step, pixel }: { readonly step: number; readonly pixel: number },
): Candidate {
  const { offset, marks, agreement } = candidate;
  if (agreement < WORTH_SETTLING) return candidate;
  const score = (by: Point) => marks.reduce((sum, mark) => sum + crossingLight(lightAt, mark, by), 0);
  let best = { at: offset, score: score(offset) };
  // Around the best place so far, in ever smaller steps.
  for (let stride = step / 2; stride > 0.7 * pixel; stride /= 2) {
    const { at } = best;
    for (const v of [-1, 0, 1]) {
      for (const u of [-1, 0, 1]) {
        const by = { x: at.x + u * stride, y: at.y + v * stride };
        const found = u === 0 && v === 0 ? best.score : score(by);
        if (found > best.score) best = { at: by, score: found };
      }
    }
  }
  return { offset: best.at, marks, agreement: Math.max(agreement, compareWords(lightAt, marks, best.at)) };
}

/** Mean light along the bright axis less that across it, of what is to be seen of both. */
function crossingLight(lightAt: LightAt, mark: Mark, by: Point): number {
  const axis = (BRIGHT_AXIS_DEG[mark.eye] * Math.PI) / 180;
  const length = MARK_PROPORTIONS.crossing * mark.radius;
  const meanAlong = (angle: number) => {
    const lights = PROBES.map((r) =>
      lightAt({ x: mark.x + by.x + r * length * Math.cos(angle), y: mark.y + by.y + r * length * Math.sin(angle) }),
    ).filter((light) => !Number.isNaN(light));
    return lights.length === 0 ? Number.NaN : mean(lights);
  };
  const difference = meanAlong(axis) - meanAlong(axis + Math.PI / 2);
  return Number.isNaN(difference) ? 0 : difference;
}
