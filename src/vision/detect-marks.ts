/**
 * The first look at a photograph: which marks of the chart are in it, each to about a pixel.
 *
 *   coarse picture -> saddles -> words read at full resolution -> identities
 *
 * Tried first at about 800 pixels across, where this is quick and noise is averaged away. With OpenCV at hand a look that
 * found too little is followed by finer ones, for a target that is small in the photograph, and coarser ones, for one
 * that is badly blurred.
 */
import { createLightSampler, coarseLuminance } from '../imaging/luminance.ts';
import type { Pixels } from '../imaging/pixels.ts';
import type { Point } from '../kernel/point.ts';
import type { Chart, Mark } from '../target/chart.ts';
import { findSaddles } from './opencv/find-saddles.ts';
import type { OpenCv } from './opencv/load-opencv.ts';
import { type ReadMark, readMark } from './read-mark.ts';
import { CODE_SECTORS, halfTurned, mirrored } from '../target/codebook.ts';

export interface MarkDetection {
  readonly marks: readonly IdentifiedMark[];
  /** Crossing-like places found and words read, for judging why there are no marks. */
  readonly saddles: number;
  readonly read: number;
  /** Full-resolution pixels per coarse pixel at the look that was kept. */
  readonly factor: number;
  /** All crossing-like places down to faint ones, the strongest first, photo px; good to about a coarse pixel. */
  readonly places: readonly Point[];
}

const COARSE_LONG_SIDE_PX = 800;
/** The crossings of the stronger picture are among the first two hundred, those of two equal ones among the first 250. */
const MAX_SADDLES = 300;
/** Places that are told of: enough for the faint marks of a stray copy behind everything that the pictures show. */
const MAX_PLACES = 1500;
/** As many marks as make a further look unnecessary. */
const ENOUGH_MARKS = 16;
/** Radius of the first circle around a saddle, in coarse pixels. */
const FIRST_LOOK_RADIUS = 1.75;

/**
 * Which marks of the chart a photograph shows. Without `cv` only the first look is taken: loading the library costs several times as much as that.
 * `most`: places looked at; more than usual where a faint picture's marks are wanted beside a strong one's.
 *
 * @example
 * const { cv } = await loadOpenCv();
 * const { marks } = detectMarks(cv, photo.pixels, layoutChart(2.35));
 * // marks[0].centre: photo px, good to about one; marks[0].mark.eye: whose picture it belongs to
 */
export function detectMarks(cv: OpenCv | undefined, pixels: Pixels, chart: Chart, most = MAX_SADDLES): MarkDetection {
  const base = Math.max(1, Math.round(Math.max(pixels.width, pixels.height) / COARSE_LONG_SIDE_PX));
  const factors = cv ? [base, Math.max(1, Math.round(base / 2)), base * 2, base * 4] : [base];
  const book = buildCodebook(chart);
  let best: MarkDetection | undefined;
  for (const factor of new Set(factors)) {
    const detection = look(cv, pixels, book, factor, most);
    if (!best || detection.marks.length > best.marks.length) best = detection;
    if (best.marks.length >= ENOUGH_MARKS) break;
  }
  return best!;
}

function look(
  cv: OpenCv | undefined,
  pixels: Pixels,
  book: ReturnType<typeof buildCodebook>,
  factor: number,
  most: number,
): MarkDetection {
  const coarse = coarseLuminance(pixels, factor);
  const sample = createLightSampler(pixels);
  const places = findSaddles(cv, coarse, Math.max(most, MAX_PLACES)).map(({ x, y }) => ({
    x: x * factor + (factor - 1) / 2,
    y: y * factor + (factor - 1) / 2,
  }));
  const looked = places.slice(0, most);
  const reads: ReadMark[] = [];
  for (const near of looked) {
    const read = readMark(sample, near, FIRST_LOOK_RADIUS * Math.max(factor, 2));
    if (read) reads.push(read);
  }
  return { marks: identifyMarks(book, reads), saddles: looked.length, read: reads.length, factor, places };
}

/**
 * Gives marks that were read their identity: which mark of the chart, and which way round the picture is.
 */

export interface IdentifiedMark {
  readonly mark: Mark;
  /** Crossing, photo px, good to about a pixel. */
  readonly centre: Point;
  /** Bright minus dark, linear light, roughly. */
  readonly contrast: number;
  /** Whether the word was read the mirrored way round. */
  readonly mirrored: boolean;
  /** Sectors that had to be repaired (0 or 1). */
  readonly repaired: number;
}

interface Entry {
  readonly mark: Mark;
  readonly mirrored: boolean;
  readonly repaired: number;
}

/** Finds marks by their words, whichever end of the axis was read first, one wrong sector repaired. */
export type Codebook = ReadonlyMap<number, Entry>;

export function buildCodebook(chart: Chart): Codebook {
  let book = books.get(chart);
  if (!book) {
    book = listWords(chart);
    books.set(chart, book);
  }
  return book;
}

/** Both photographs are read with the same chart. */
const books = new WeakMap<Chart, Codebook>();

function listWords(chart: Chart): Codebook {
  const book = new Map<number, Entry>();
  for (const mark of chart.marks) {
    for (const [word, isMirrored] of [
      [mark.word, false],
      [halfTurned(mark.word), false],
      [mirrored(mark.word), true],
      [mirrored(halfTurned(mark.word)), true],
    ] as const) {
      book.set(word, { mark, mirrored: isMirrored, repaired: 0 });
      for (let j = 0; j < CODE_SECTORS; j++) {
        book.set(word ^ (1 << j), { mark, mirrored: isMirrored, repaired: 1 });
      }
    }
  }
  return book;
}

/** Identities of the marks that carry a known word. A mark read twice keeps the better reading. */
export function identifyMarks(book: Codebook, reads: readonly ReadMark[]): IdentifiedMark[] {
  const best = new Map<string, IdentifiedMark & { doubtful: number }>();
  for (const read of reads) {
    const entry = book.get(read.word);
    if (!entry) continue;
    const key = `${entry.mark.id}${entry.mirrored ? ' mirrored' : ''}`;
    const known = best.get(key);
    const doubtful = read.doubtful + 4 * entry.repaired;
    if (!known || doubtful < known.doubtful)
      best.set(key, { ...entry, centre: read.centre, contrast: read.contrast, doubtful });
  }
  return [...best.values()].map(({ doubtful: _, ...identified }) => identified);
}
