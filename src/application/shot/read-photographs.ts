/** Reads the photographs of a set one after the other, and refuses those that cannot belong together. */
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import type { Photo, PhotoRefusalCode } from '../../photo/photo.ts';
import { type OpenedPhoto, openPhoto, type PhotoReading, readPhoto } from '../../photo/read-photo.ts';
import type { PhotographRole } from '../../record/roles.ts';

export interface PhotoSource {
  readonly path: string;
  /** What refusals and the reading call it. */
  readonly name: string;
}

export interface PhotographSource {
  readonly role: PhotographRole;
  readonly path: string;
  /** Its path where left out. */
  readonly name?: string;
  /** Where its reading has begun already. */
  readonly reading?: Promise<PhotoReading>;
}

export interface RolePhoto {
  readonly role: PhotographRole;
  readonly photo: Photo;
}

export type SetRefusal = {
  readonly outcome: 'refused';
  readonly refusal: Refusal<string>;
  readonly role: PhotographRole | null;
  /** The photographs that could be read. */
  readonly files: readonly RolePhoto[];
};

export type ReadSet = { readonly outcome: 'read'; readonly photographs: readonly RolePhoto[] } | SetRefusal;

/**
 * `onPhotograph` is called with each photograph while the next one is being decoded on another thread. All must be of
 * one size, and none may stand there twice: two exposures never agree in every pixel.
 */
export async function readPhotographs(
  sources: readonly PhotographSource[],
  onPhotograph: (photograph: RolePhoto, index: number) => void = () => {},
): Promise<ReadSet> {
  const photographs: RolePhoto[] = [];
  const stop = (role: PhotographRole | null, refusal: Refusal<string>): SetRefusal => ({
    outcome: 'refused',
    refusal,
    role,
    files: photographs,
  });
  const [head] = sources;
  let reading = head && (head.reading ?? readPhoto(head.path));
  let opening = sources[1] && open(sources[1]);
  for (const [index, { role, path, name = path }] of sources.entries()) {
    const read = await reading!;
    const opened = await opening;
    // Decoding begins here, so that it goes on while the photograph before it is looked at.
    reading = opened?.outcome === 'opened' ? opened.decode() : opened && Promise.resolve(opened);
    opening = sources[index + 2] && open(sources[index + 2]!);
    if (read.outcome === 'refused') return stop(role, refuse(read.code, { ...read.facts, file: name }));
    const photograph = { role, photo: { ...read.photo, file: name } };
    const unfit = findMismatch(photograph, photographs);
    if (unfit) return stop(unfit.role, unfit.refusal);
    photographs.push(photograph);
    onPhotograph(photograph, index);
  }
  return { outcome: 'read', photographs };
}

/** Where the reading has begun already there is nothing left to open. */
async function open({ path, reading }: PhotographSource): Promise<OpenedPhoto | Refusal<PhotoRefusalCode>> {
  return reading ? { outcome: 'opened', decode: () => reading } : openPhoto(path);
}

function findMismatch(
  { role, photo }: RolePhoto,
  earlier: readonly RolePhoto[],
): { readonly refusal: Refusal<string>; readonly role: PhotographRole | null } | undefined {
  const first = earlier[0];
  if (!first) return undefined;
  // Of a pair nobody can say which of the two is the wrong one.
  const blamed = role === 'left-lens' || role === 'right-lens' ? null : role;
  if (earlier.some((other) => other.photo.sha256 === photo.sha256 || samePixels(other.photo, photo))) {
    return { refusal: refuse('same-photo-twice'), role: blamed };
  }
  const [a, b] = [first.photo, photo];
  if (a.width === b.width && a.height === b.height && a.orientation === b.orientation) return undefined;
  const isPair = first.role === 'left-lens' && role === 'right-lens';
  const facts = {
    left_width_px: a.width,
    left_height_px: a.height,
    left_orientation: a.orientation,
    right_width_px: b.width,
    right_height_px: b.height,
    right_orientation: b.orientation,
  };
  return { refusal: refuse('different-size', isPair ? facts : { file: b.file }), role: blamed };
}

/** The same photograph saved under another name with other metadata. */
function samePixels({ pixels: a }: Photo, { pixels: b }: Photo): boolean {
  if (a.data.length !== b.data.length || a.data.BYTES_PER_ELEMENT !== b.data.BYTES_PER_ELEMENT) return false;
  return Buffer.compare(bytesOf(a.data), bytesOf(b.data)) === 0;
}

function bytesOf({ buffer, byteOffset, byteLength }: Uint8Array | Uint16Array): Buffer {
  return Buffer.from(buffer as ArrayBuffer, byteOffset, byteLength);
}
