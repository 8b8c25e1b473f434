/**
 * Whether a JPEG is what its encoder wrote: every code of every scan is decoded and counted against the frame, the restart
 * markers, the filling of last bytes and the end marker. No pixel is made.
 *
 * Sequential and progressive Huffman coding of 8 bits, which is what cameras write; anything else is left to the decoder.
 * What stands behind the end marker (previews, further pictures, words of the maker) is nobody's business here.
 *
 * Not seen: damage that leaves the count as it was. It stays within the bytes that were hit, but for the brightness of what
 * follows, and is looked for among the marks.
 *
 * Source: ITU-T T.81 (1992), B.1.1 and B.2; ISO/IEC 10918-5 (JFIF) needs nothing beyond.
 */
import { checkScan, readScan } from './check-scan.ts';
import { buildHuffmanTable } from './huffman-table.ts';
import { type CodingTables, type Frame, readFrame } from './jpeg-frame.ts';

export type JpegDamage = 'truncated' | 'damaged';

const MARKER = {
  startOfImage: 0xd8,
  endOfImage: 0xd9,
  startOfScan: 0xda,
  quantization: 0xdb,
  lineCount: 0xdc,
  restartInterval: 0xdd,
  huffman: 0xc4,
  baseline: 0xc0,
  extended: 0xc1,
  progressive: 0xc2,
} as const;

export function findJpegDamage(bytes: Uint8Array): JpegDamage | undefined {
  return new JpegWalk(bytes).walk();
}

type Step = { readonly next: number } | { readonly end: JpegDamage | undefined };

const DAMAGED: Step = { end: 'damaged' };
/** A kind of coding that is not looked into. */
const LEFT_TO_DECODER: Step = { end: undefined };

class JpegWalk {
  readonly #bytes: Uint8Array;
  #frame: Frame | undefined;
  #restartInterval = 0;
  #tables: CodingTables = { dc: [], ac: [], meanStep: [] };

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
  }

  walk(): JpegDamage | undefined {
    for (let at = 2; ; ) {
      // Stray bytes before a header's segment are harmless, and decoders say so.
      while (at < this.#bytes.length && this.#bytes[at] !== 0xff) at++;
      while (this.#bytes[at + 1] === 0xff) at++;
      if (at + 1 >= this.#bytes.length) return 'truncated';
      const step = this.#take(this.#bytes[at + 1]!, at + 2);
      if ('end' in step) return step.end;
      at = step.next;
    }
  }

  #take(marker: number, at: number): Step {
    if (marker === MARKER.endOfImage) return { end: this.#isComplete() ? undefined : 'damaged' };
    if (marker === 0 || marker === 1 || (marker >= 0xd0 && marker <= MARKER.startOfImage)) return { next: at };
    if (at + 2 > this.#bytes.length) return { end: 'truncated' };
    const length = (this.#bytes[at]! << 8) | this.#bytes[at + 1]!;
    if (length < 2) return DAMAGED;
    if (at + length > this.#bytes.length) return { end: 'truncated' };
    const segment = this.#bytes.subarray(at + 2, at + length);
    const next = { next: at + length };
    if (marker === MARKER.startOfScan) return this.#takeScan(segment, at + length);
    if (marker === MARKER.quantization) return this.#takeQuantization(segment) ? next : DAMAGED;
    if (marker === MARKER.huffman) return this.#takeHuffman(segment) ? next : DAMAGED;
    if (marker === MARKER.restartInterval) {
      this.#restartInterval = (segment[0]! << 8) | segment[1]!;
      return segment.length === 2 ? next : DAMAGED;
    }
    if (marker === MARKER.lineCount) return LEFT_TO_DECODER;
    return marker >= MARKER.baseline && marker <= 0xcf && marker !== 0xc8
      ? this.#takeFrame(marker, segment, next)
      : next;
  }

  #takeFrame(marker: number, segment: Uint8Array, next: Step): Step {
    if (marker > MARKER.progressive || segment[0] !== 8) return LEFT_TO_DECODER;
    if (this.#frame !== undefined) return DAMAGED;
    this.#frame = readFrame(segment, marker === MARKER.progressive);
    return this.#frame === undefined ? DAMAGED : next;
  }

  #takeScan(segment: Uint8Array, at: number): Step {
    if (this.#frame === undefined) return DAMAGED;
    const scan = readScan(segment, this.#frame, this.#tables);
    const end = scan && checkScan(this.#bytes, at, scan, this.#frame, this.#restartInterval);
    return end === undefined ? DAMAGED : { next: end };
  }

  #takeQuantization(segment: Uint8Array): boolean {
    let at = 0;
    while (at < segment.length) {
      const isWide = segment[at]! >> 4 === 1;
      const size = isWide ? 128 : 64;
      if (segment[at]! >> 4 > 1 || (segment[at]! & 15) > 3 || at + 1 + size > segment.length) return false;
      const step = isWide ? (segment[at + 1]! << 8) | segment[at + 2]! : segment[at + 1]!;
      this.#tables.meanStep[segment[at]! & 15] = step;
      at += 1 + size;
    }
    return true;
  }

  #takeHuffman(segment: Uint8Array): boolean {
    let at = 0;
    while (at + 17 <= segment.length) {
      const counts = segment.subarray(at + 1, at + 17);
      const codes = counts.reduce((sum, count) => sum + count, 0);
      const symbols = segment.subarray(at + 17, at + 17 + codes);
      const table = buildHuffmanTable(counts, symbols);
      const number = segment[at]! & 15;
      if (table === undefined || symbols.length < codes || number > 3 || segment[at]! >> 4 > 1) return false;
      (segment[at]! >> 4 === 0 ? this.#tables.dc : this.#tables.ac)[number] = table;
      at += 17 + codes;
    }
    return at === segment.length;
  }

  /** Every bit of every coefficient has been sent. */
  #isComplete(): boolean {
    return this.#frame?.components.every(({ precision }) => precision.every((bit) => bit === 0)) ?? false;
  }
}
