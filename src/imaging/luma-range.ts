/**
 * Luma of video as codes of a picture. Video range keeps black at 16 and white at 235 (ITU-R BT.709, 8 bit); what lies
 * beyond them is cut off, as every display does.
 */
export type LumaRange = 'video' | 'full';

const BLACK = 16;
const WHITE = 235;

const EXPANDED = Uint8Array.from({ length: 256 }, (_, code) =>
  Math.min(255, Math.max(0, Math.round((255 * (code - BLACK)) / (WHITE - BLACK)))),
);
/** Two neighbouring codes at once: a frame of two million takes a quarter of the time. Built at the first frame. */
let expandedPairs: Uint16Array | undefined;

/** Writes full-range codes into `target`, which has the same length. */
export function expandLuma(luma: Uint8Array, range: LumaRange, target: Uint8Array): void {
  if (range === 'full') {
    target.set(luma);
    return;
  }
  const isPaired = luma.byteOffset % 2 === 0 && target.byteOffset % 2 === 0;
  const pairs = isPaired ? luma.length >> 1 : 0;
  if (pairs > 0) {
    expandedPairs ??= Uint16Array.from(
      { length: 65536 },
      (_, pair) => EXPANDED[pair & 255] | (EXPANDED[pair >> 8] << 8),
    );
    expandPairs(
      new Uint16Array(luma.buffer, luma.byteOffset, pairs),
      expandedPairs,
      new Uint16Array(target.buffer, target.byteOffset, pairs),
    );
  }
  for (let i = 2 * pairs; i < luma.length; i++) target[i] = EXPANDED[luma[i]];
}

function expandPairs(source: Uint16Array, table: Uint16Array, target: Uint16Array): void {
  for (let i = 0; i < source.length; i++) target[i] = table[source[i]];
}
