/**
 * Gives marks that were read their identity: which mark of the chart, and which way round the picture is.
 */
import type { Point } from '../kernel/point.ts';
import type { Chart, Mark } from '../target/chart.ts';
import { CODE_SECTORS, halfTurned, mirrored } from '../target/codebook.ts';
import type { ReadMark } from './read-mark.ts';

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
