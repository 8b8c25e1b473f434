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

/** Writes full-range codes into `target`, which has the same length. */
export function expandLuma(luma: Uint8Array, range: LumaRange, target: Uint8Array): void {
  if (range === 'full') {
    target.set(luma);
    return;
  }
  for (let i = 0; i < luma.length; i++) target[i] = EXPANDED[luma[i]];
}
