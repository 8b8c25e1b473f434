/**
 * The directories of a TIFF structure: a TIFF file, or the Exif block inside a JPEG or PNG.
 *
 * Sources: TIFF 6.0 (1992), section 2; Exif 2.32 (JEITA CP-3451E), section 4.6. Damaged structures end the walk, they
 * never throw: what cannot be read is missing.
 */
export interface TiffDirectory {
  /** Numbers of a tag (rationals already divided); empty when the tag is missing, unreadable or text. */
  numbers(tag: number): readonly number[];
  /** Text of an ASCII tag, without the closing zero and surrounding spaces; undefined when missing or empty. */
  text(tag: number): string | undefined;
}

export const TIFF_TAG = {
  newSubfileType: 254,
  photometricInterpretation: 262,
  make: 271,
  model: 272,
  stripOffsets: 273,
  stripByteCounts: 279,
  tileOffsets: 324,
  tileByteCounts: 325,
  subDirectories: 330,
  exifDirectory: 34665,
  exposureTime: 33434,
  fNumber: 33437,
  isoSpeed: 34855,
  dateTimeOriginal: 36867,
  focalLength: 37386,
  focalLength35: 41989,
  dngVersion: 50706,
} as const;

const BYTES_OF_TYPE: Readonly<Record<number, number>> = { 1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8 };
const ENTRY_BYTES = 12;
/** More chained directories than this are a loop or an attack, not a photograph. */
const MAX_DIRECTORIES = 64;
/** The widest directories of cameras have some hundred entries. */
const MAX_ENTRIES = 1024;
/** Of one tag: strips or tiles of the largest photograph. Of the whole structure: counts are only promises of the file. */
const MAX_VALUES = 500_000;
const MAX_VALUES_READ = 2_000_000;
const MAX_TEXT_BYTES = 65_536;

interface Entry {
  readonly type: number;
  readonly count: number;
  /** Where the values stand, from the start of the structure. */
  readonly at: number;
}

export class TiffStructure {
  readonly #bytes: Buffer;
  readonly #bigEndian: boolean;
  #valuesRead = 0;

  private constructor(bytes: Buffer, bigEndian: boolean) {
    this.#bytes = bytes;
    this.#bigEndian = bigEndian;
  }

  /** Undefined when the bytes do not begin as a classic TIFF structure. */
  static open(bytes: Buffer): TiffStructure | undefined {
    if (bytes.length < 8) return undefined;
    const order = bytes.toString('latin1', 0, 2);
    if (order !== 'II' && order !== 'MM') return undefined;
    const structure = new TiffStructure(bytes, order === 'MM');
    return structure.#unsigned(2, 2) === 42 ? structure : undefined;
  }

  /** The directories chained from the head of the structure; `whole` is false when the chain leads out of the bytes. */
  mainDirectories(): { readonly directories: readonly TiffDirectory[]; readonly whole: boolean } {
    const directories: TiffDirectory[] = [];
    const seen = new Set<number>();
    let at = this.#unsigned(4, 4) ?? 0;
    while (at !== 0 && !seen.has(at) && directories.length < MAX_DIRECTORIES) {
      seen.add(at);
      const found = this.#directoryAt(at);
      if (found === undefined) return { directories, whole: false };
      directories.push(found.directory);
      at = found.next;
    }
    return { directories, whole: directories.length > 0 };
  }

  /** Directories that a tag of another directory points to (Exif, sub-pictures). */
  directoriesBehind(directory: TiffDirectory, tag: number): readonly TiffDirectory[] {
    return directory
      .numbers(tag)
      .slice(0, MAX_DIRECTORIES)
      .map((at) => this.#directoryAt(at)?.directory)
      .filter((found) => found !== undefined);
  }

  #directoryAt(at: number): { directory: TiffDirectory; next: number } | undefined {
    const count = this.#unsigned(at, 2);
    if (count === undefined || count > MAX_ENTRIES || at + 2 + count * ENTRY_BYTES > this.#bytes.length)
      return undefined;
    const entries = new Map<number, Entry>();
    for (let i = 0; i < count; i++) this.#readEntry(at + 2 + i * ENTRY_BYTES, entries);
    const directory = {
      numbers: (tag: number) => this.#numbers(entries.get(tag)),
      text: (tag: number) => this.#text(entries.get(tag)),
    };
    return { directory, next: this.#unsigned(at + 2 + count * ENTRY_BYTES, 4) ?? 0 };
  }

  #readEntry(at: number, entries: Map<number, Entry>): void {
    const tag = this.#unsigned(at, 2);
    const type = this.#unsigned(at + 2, 2);
    const count = this.#unsigned(at + 4, 4);
    if (tag === undefined || type === undefined || count === undefined) return;
    const length = (BYTES_OF_TYPE[type] ?? 0) * count;
    const valuesAt = length <= 4 ? at + 8 : this.#unsigned(at + 8, 4);
    if (length === 0 || valuesAt === undefined || valuesAt + length > this.#bytes.length) return;
    entries.set(tag, { type, count, at: valuesAt });
  }

  #numbers(entry: Entry | undefined): readonly number[] {
    if (entry === undefined || entry.type === 2 || entry.count > MAX_VALUES) return [];
    this.#valuesRead += entry.count;
    if (this.#valuesRead > MAX_VALUES_READ) return [];
    const step = BYTES_OF_TYPE[entry.type];
    return Array.from({ length: entry.count }, (_, i) => this.#number(entry.type, entry.at + i * step));
  }

  #number(type: number, at: number): number {
    if (type === 5) return this.#unsigned(at, 4)! / this.#unsigned(at + 4, 4)!;
    if (type === 10) return this.#signed(at, 4) / this.#signed(at + 4, 4);
    const length = BYTES_OF_TYPE[type];
    return type === 6 || type === 8 || type === 9 ? this.#signed(at, length) : this.#unsigned(at, length)!;
  }

  #text(entry: Entry | undefined): string | undefined {
    if (entry === undefined || entry.type !== 2) return undefined;
    const text = this.#bytes
      .toString('utf8', entry.at, entry.at + Math.min(entry.count, MAX_TEXT_BYTES))
      .split('\0', 1)[0]
      .trim();
    return text === '' ? undefined : text;
  }

  #unsigned(at: number, length: number): number | undefined {
    if (at < 0 || at + length > this.#bytes.length) return undefined;
    return this.#bigEndian ? this.#bytes.readUIntBE(at, length) : this.#bytes.readUIntLE(at, length);
  }

  #signed(at: number, length: number): number {
    return this.#bigEndian ? this.#bytes.readIntBE(at, length) : this.#bytes.readIntLE(at, length);
  }
}
