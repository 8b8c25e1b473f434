/**
 * A Huffman table of a JPEG, made ready for decoding.
 *
 * Source: ITU-T T.81 (1992), B.2.4.2 (DHT), C.2 and F.2.2.3 (canonical codes and their decoding).
 */

/** Codes up to this length are found in one step; nearly all are. */
export const FAST_BITS = 10;

export interface HuffmanTable {
  /** Length times 256 plus symbol, by the next `FAST_BITS` bits; 0 for longer codes and for what is no code. */
  readonly fast: Uint16Array;
  /** By length: one past the last code of that length, brought to 16 bits; and what leads from a code to its symbol. */
  readonly end: Int32Array;
  readonly offset: Int32Array;
  readonly symbols: Uint8Array;
}

/** `counts`: of the codes with 1 to 16 bits. Undefined where they do not fit into a table of codes. */
export function buildHuffmanTable(counts: Uint8Array, symbols: Uint8Array): HuffmanTable | undefined {
  const fast = new Uint16Array(1 << FAST_BITS);
  const end = new Int32Array(17);
  const offset = new Int32Array(17);
  let code = 0;
  let index = 0;
  for (let length = 1; length <= 16; length++) {
    offset[length] = index - code;
    for (let i = 0; i < counts[length - 1]!; i++, code++, index++) {
      if (length > FAST_BITS) continue;
      const first = code << (FAST_BITS - length);
      fast.fill((length << 8) | symbols[index]!, first, first + (1 << (FAST_BITS - length)));
    }
    if (code > 1 << length) return undefined;
    end[length] = code << (16 - length);
    code <<= 1;
  }
  return { fast, end, offset, symbols };
}
