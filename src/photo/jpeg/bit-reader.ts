/**
 * The bits of a scan's entropy-coded data, up to the next marker.
 *
 * Source: ITU-T T.81 (1992), B.1.1.5 (a byte FF within the data is followed by 00) and F.1.2.3 (the last byte is filled up
 * with ones).
 */
import { FAST_BITS, type HuffmanTable } from './huffman-table.ts';

/** Encoders exist that align the end of the data to words. */
const MOST_FILLING_BYTES = 3;

export class BitReader {
  readonly #bytes: Uint8Array;
  /** The next byte that has not been taken into the window. */
  #at: number;
  #window = 0;
  #held = 0;
  /** Bits that were asked for beyond the data. */
  #missing = 0;

  constructor(bytes: Uint8Array, at: number) {
    this.#bytes = bytes;
    this.#at = at;
  }

  get isOverrun(): boolean {
    return this.#missing > this.#held;
  }

  #fill(): void {
    const bytes = this.#bytes;
    while (this.#held <= 16) {
      let byte = 0;
      const next = this.#at < bytes.length ? bytes[this.#at]! : 0xff;
      if (next !== 0xff) {
        byte = next;
        this.#at++;
      } else if (bytes[this.#at + 1] === 0 && this.#at + 1 < bytes.length) {
        byte = 0xff;
        this.#at += 2;
      } else this.#missing += 8;
      this.#window = (this.#window << 8) | byte;
      this.#held += 8;
    }
  }

  /** Up to 16 bits, as an unsigned number. */
  take(count: number): number {
    if (count === 0) return 0;
    if (this.#held < count) this.#fill();
    this.#held -= count;
    return (this.#window >>> this.#held) & ((1 << count) - 1);
  }

  /** The next symbol; -1 where the bits are no code of the table. */
  decode(table: HuffmanTable): number {
    if (this.#held < 16) this.#fill();
    const ahead = (this.#window >>> (this.#held - 16)) & 0xffff;
    const found = table.fast[ahead >>> (16 - FAST_BITS)]!;
    if (found !== 0) {
      this.#held -= found >>> 8;
      return found & 0xff;
    }
    for (let length = FAST_BITS + 1; length <= 16; length++) {
      if (ahead >= table.end[length]!) continue;
      this.#held -= length;
      return table.symbols[(ahead >>> (16 - length)) + table.offset[length]!] ?? -1;
    }
    return -1;
  }

  /** A number of `size` bits in the coding of T.81, F.2.2.1 (EXTEND). */
  takeSigned(size: number): number {
    const value = this.take(size);
    return size > 0 && value < 1 << (size - 1) ? value - (1 << size) + 1 : value;
  }

  /**
   * Ends the data here: what is left of the last byte must be filling, all ones or all zeros, and a marker must follow.
   * Where that marker stands; undefined where data are left over or were missing.
   */
  close(): number | undefined {
    const left = this.#held - this.#missing;
    if (left < 0) return undefined;
    const unused = (this.#window >>> this.#missing) & (2 ** left - 1);
    const filling = left & 7;
    let extra = (left - filling) / 8;
    if (!isUniform(unused >>> (left - filling), filling)) return undefined;
    for (let i = 0; i < extra; i++) if (!isUniform((unused >>> (8 * i)) & 0xff, 8)) return undefined;
    const bytes = this.#bytes;
    let at = this.#at;
    for (; bytes[at] === 0; at++) extra++;
    if (extra > MOST_FILLING_BYTES || bytes[at] !== 0xff) return undefined;
    while (bytes[at + 1] === 0xff) at++;
    return at;
  }
}

function isUniform(bits: number, count: number): boolean {
  return bits === 0 || bits === (1 << count) - 1;
}
