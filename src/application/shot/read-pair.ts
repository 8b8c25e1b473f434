/** Reads the photographs, and refuses those that cannot belong together. */
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import type { Photo } from '../../photo/photo.ts';
import { openPhoto, type PhotoReading, readPhoto } from '../../photo/read-photo.ts';
import type { PhotographRole } from '../../record/roles.ts';

export type PairRefusal = {
  readonly outcome: 'refused';
  readonly refusal: Refusal<string>;
  readonly shot: PhotographRole | null;
};

export interface ReadPair {
  readonly outcome: 'read';
  readonly left: Photo;
  readonly right: Photo;
}

export interface PhotoSource {
  readonly path: string;
  /** What refusals and the reading call it. */
  readonly name: string;
}

export interface ReadingOfPair {
  /** The left photograph, where its reading has begun already. */
  readonly leftReading?: Promise<PhotoReading> | undefined;
  /** Called with the left photograph while the right one is being decoded on another thread. */
  readonly onLeft?: (left: Photo) => void;
}

export async function readPair(
  leftSource: PhotoSource,
  rightSource: PhotoSource,
  { leftReading = readPhoto(leftSource.path), onLeft }: ReadingOfPair = {},
): Promise<ReadPair | PairRefusal> {
  const [left, rightFile] = await Promise.all([leftReading, openPhoto(rightSource.path)]);
  const refuseLeft = (refusal: Refusal<string>) => refuseOne(refusal, leftSource.name, 'left-lens');
  const refuseRight = (refusal: Refusal<string>) => refuseOne(refusal, rightSource.name, 'right-lens');
  if (left.outcome === 'refused') return refuseLeft(left);
  if (rightFile.outcome === 'refused') return refuseRight(rightFile);
  const decoding = rightFile.decode();
  onLeft?.(left.photo);
  const right = await decoding;
  if (right.outcome === 'refused') return refuseRight(right);
  const l = { ...left.photo, file: leftSource.name };
  const r = { ...right.photo, file: rightSource.name };
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

/** The closing photograph: another exposure than the first, of the same size. */
export async function readClosing(
  { path, name }: PhotoSource,
  first: Photo,
): Promise<{ readonly outcome: 'read'; readonly photo: Photo } | PairRefusal> {
  const read = await readPhoto(path);
  if (read.outcome === 'refused') return refuseOne(read, name, 'closing');
  const closing = { ...read.photo, file: name };
  const pair = (refusal: Refusal<string>): PairRefusal => ({ outcome: 'refused', refusal, shot: 'closing' });
  if (closing.sha256 === first.sha256 || samePixels(closing, first)) return pair(refuse('same-photo-twice'));
  if (closing.width !== first.width || closing.height !== first.height || closing.orientation !== first.orientation) {
    return pair(refuse('different-size'));
  }
  return { outcome: 'read', photo: closing };
}

/** A refusal with the file's name, which says more than the shot's role to whoever mistyped it. */
function refuseOne({ code, facts }: Refusal<string>, file: string, shot: PhotographRole): PairRefusal {
  return { outcome: 'refused', refusal: refuse(code, { ...facts, file }), shot };
}

/** The same photograph saved under another name with other metadata. Two exposures never agree in every pixel. */
function samePixels({ pixels: a }: Photo, { pixels: b }: Photo): boolean {
  if (a.data.length !== b.data.length || a.data.BYTES_PER_ELEMENT !== b.data.BYTES_PER_ELEMENT) return false;
  return Buffer.compare(bytesOf(a.data), bytesOf(b.data)) === 0;
}

function bytesOf({ buffer, byteOffset, byteLength }: Uint8Array | Uint16Array): Buffer {
  return Buffer.from(buffer as ArrayBuffer, byteOffset, byteLength);
}
