/**
 * How coarsely a JPEG keeps brightness: the first value of its luminance quantization table. The mean of a block of 8 x 8
 * pixels is kept in steps of an eighth of it, in 8-bit codes, and slow changes within the block about as coarsely.
 *
 * Source: ITU-T T.81 (1992), B.2.4.1 (DQT: tables in zig-zag order, their first value that of the mean) and A.3.3.
 */

const QUANTIZATION = 0xdb;
const SCAN = 0xda;

/** `undefined` where no table stands before the first scan. */
export function jpegQuantization(bytes: Buffer): number | undefined {
  let at = 2;
  while (at + 4 <= bytes.length) {
    if (bytes[at] !== 0xff) {
      at++;
      continue;
    }
    const marker = bytes[at + 1]!;
    // Fill bytes and markers that stand alone.
    if (marker === 0xff || marker === 0 || (marker >= 0xd0 && marker <= 0xd8)) {
      at += marker === 0xff ? 1 : 2;
      continue;
    }
    if (marker === SCAN) return undefined;
    const end = at + 2 + bytes.readUInt16BE(at + 2);
    if (marker === QUANTIZATION) {
      const found = firstTable(bytes.subarray(at + 4, Math.min(end, bytes.length)));
      if (found !== undefined) return found;
    }
    at = Math.max(end, at + 2);
  }
  return undefined;
}

/** The first value of table 0, which luminance uses. */
function firstTable(segment: Buffer): number | undefined {
  let at = 0;
  while (at + 3 <= segment.length) {
    const isWide = segment[at]! >> 4 === 1;
    if ((segment[at]! & 15) === 0) return isWide ? segment.readUInt16BE(at + 1) : segment[at + 1];
    at += 1 + (isWide ? 128 : 64);
  }
  return undefined;
}
