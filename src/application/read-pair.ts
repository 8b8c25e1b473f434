/** Reads both photographs at once, and refuses pairs that cannot belong together. */
import { type Refusal, refuse } from '../kernel/refusal.ts';
import type { Photo } from '../photo/photo.ts';
import { readPhoto } from '../photo/read-photo.ts';
import type { ShotRole } from '../record/reading.ts';

export type PairRefusal = {
  readonly outcome: 'refused';
  readonly refusal: Refusal<string>;
  readonly shot: ShotRole | null;
};

export async function readPair(
  leftPath: string,
  rightPath: string,
): Promise<{ readonly outcome: 'read'; readonly left: Photo; readonly right: Photo } | PairRefusal> {
  const [left, right] = await Promise.all([readPhoto(leftPath), readPhoto(rightPath)]);
  if (left.outcome === 'refused') return { outcome: 'refused', refusal: named(left, leftPath), shot: 'left-lens' };
  if (right.outcome === 'refused') return { outcome: 'refused', refusal: named(right, rightPath), shot: 'right-lens' };
  const [l, r] = [left.photo, right.photo];
  const pair = (refusal: Refusal<string>): PairRefusal => ({ outcome: 'refused', refusal, shot: null });
  if (l.sha256 === r.sha256 || samePixels(l, r)) return pair(refuse('same-photo-twice'));
  if (l.width !== r.width || l.height !== r.height || l.orientation !== r.orientation) {
    return pair(
      refuse('different-size', {
        left_width_px: l.width,
        left_height_px: l.height,
        left_orientation: l.orientation,
        right_width_px: r.width,
        right_height_px: r.height,
        right_orientation: r.orientation,
      }),
    );
  }
  return { outcome: 'read', left: l, right: r };
}

/** The refusal with the file's name, which says more than the shot's role to whoever mistyped it. */
function named<Code extends string>({ code, facts }: Refusal<Code>, file: string): Refusal<Code> {
  return refuse(code, { ...facts, file });
}

/** The same photograph saved under another name with other metadata. Two exposures never agree in every pixel. */
function samePixels({ pixels: a }: Photo, { pixels: b }: Photo): boolean {
  if (a.data.length !== b.data.length || a.data.BYTES_PER_ELEMENT !== b.data.BYTES_PER_ELEMENT) return false;
  return Buffer.compare(bytesOf(a.data), bytesOf(b.data)) === 0;
}

function bytesOf({ buffer, byteOffset, byteLength }: Uint8Array | Uint16Array): Buffer {
  return Buffer.from(buffer as ArrayBuffer, byteOffset, byteLength);
}
