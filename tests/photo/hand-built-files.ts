/** Small files built byte by byte: what no encoder would write, or only with options that it does not have. */
import { crc32 } from 'node:zlib';

/** One entry of a TIFF directory; values of up to four bytes only, unless `bytes` are given to stand elsewhere. */
export interface TiffEntry {
  readonly tag: number;
  readonly type: number;
  readonly values: readonly number[];
}

const TYPE_BYTES: Readonly<Record<number, number>> = { 1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 7: 1, 10: 8 };

/** A chain of directories, each followed by its longer values; `pixels` stand right after the head, at byte 8. */
export function buildTiff(
  directories: readonly (readonly TiffEntry[])[],
  { pixels = Buffer.alloc(0), bigEndian = false, exif = [] as readonly TiffEntry[] } = {},
): Buffer {
  const parts: Buffer[] = [Buffer.from(bigEndian ? 'MM\0*\0\0\0\0' : 'II*\0\0\0\0\0', 'latin1'), pixels];
  let length = 8 + pixels.length;
  const put = (buffer: Buffer, at: number, value: number, size: number): void => {
    if (bigEndian) buffer.writeUIntBE(value, at, size);
    else buffer.writeUIntLE(value, at, size);
  };
  const append = (buffer: Buffer): number => {
    const even = buffer.length % 2 === 0 ? buffer : Buffer.concat([buffer, Buffer.alloc(1)]);
    parts.push(even);
    length += even.length;
    return length - even.length;
  };
  const encode = ({ type, values }: TiffEntry): Buffer => {
    const size = TYPE_BYTES[type];
    const encoded = Buffer.alloc(size * (size === 8 ? values.length / 2 : values.length));
    const step = size === 8 ? 4 : size;
    for (const [i, value] of values.entries()) put(encoded, i * step, value, step);
    return encoded;
  };
  const appendDirectory = (entries: readonly TiffEntry[]): number => {
    const table = Buffer.alloc(2 + entries.length * 12 + 4);
    put(table, 0, entries.length, 2);
    const sorted = [...entries].sort((a, b) => a.tag - b.tag);
    for (const [i, entry] of sorted.entries()) {
      const encoded = encode(entry);
      put(table, 2 + i * 12, entry.tag, 2);
      put(table, 4 + i * 12, entry.type, 2);
      put(table, 6 + i * 12, TYPE_BYTES[entry.type] === 8 ? entry.values.length / 2 : entry.values.length, 4);
      if (encoded.length <= 4) encoded.copy(table, 10 + i * 12);
      else put(table, 10 + i * 12, append(encoded), 4);
    }
    return append(table);
  };
  const exifAt = exif.length === 0 ? undefined : appendDirectory(exif);
  let link: { buffer: Buffer; at: number } = { buffer: parts[0], at: 4 };
  for (const [i, entries] of directories.entries()) {
    const pointer = exifAt !== undefined && i === 0 ? [{ tag: 34665, type: 4, values: [exifAt] }] : [];
    const at = appendDirectory([...entries, ...pointer]);
    put(link.buffer, link.at, at, 4);
    const table = parts[parts.length - 1];
    link = { buffer: table, at: 2 + (entries.length + pointer.length) * 12 };
  }
  return Buffer.concat(parts);
}

/** The directory of an uncompressed 8-bit grey picture whose pixels stand at byte 8. */
export function greyDirectory(width: number, height: number): TiffEntry[] {
  return [
    { tag: 256, type: 3, values: [width] },
    { tag: 257, type: 3, values: [height] },
    { tag: 258, type: 3, values: [8] },
    { tag: 259, type: 3, values: [1] },
    { tag: 262, type: 3, values: [1] },
    { tag: 273, type: 4, values: [8] },
    { tag: 277, type: 3, values: [1] },
    { tag: 278, type: 3, values: [height] },
    { tag: 279, type: 4, values: [width * height] },
  ];
}

export function asciiValues(text: string): number[] {
  return [...Buffer.from(`${text}\0`, 'utf8')];
}

export function pngChunk(name: string, content: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), content]);
  const chunk = Buffer.alloc(body.length + 8);
  chunk.writeUInt32BE(content.length, 0);
  body.copy(chunk, 4);
  chunk.writeUInt32BE(crc32(body), body.length + 4);
  return chunk;
}

/** Puts a chunk right behind the header chunk of a PNG. */
export function withPngChunk(png: Uint8Array, name: string, content: Uint8Array): Buffer {
  return Buffer.concat([png.subarray(0, 33), pngChunk(name, content), png.subarray(33)]);
}

/** A PNG whose header promises a size that its few bytes of data do not keep. */
export function pngPromising(png: Uint8Array, width: number, height: number): Buffer {
  const header = Buffer.from(png.subarray(16, 29));
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  return Buffer.concat([png.subarray(0, 8), pngChunk('IHDR', header), png.subarray(33)]);
}

export interface IccColours {
  readonly name: string;
  readonly colorants: readonly (readonly [number, number, number])[];
  /** A whole power curve, or samples of the curve. */
  readonly curve: number | readonly number[];
}

/** sRGB primaries adapted to D50 (CIE XYZ). */
export const SRGB_D50: IccColours['colorants'] = [
  [0.43607, 0.22249, 0.01392],
  [0.38515, 0.71687, 0.09708],
  [0.14307, 0.06061, 0.7141],
];

/** A version 2.1 matrix profile of a display, or of grey when there are no colorants (ICC.1:2001-04). */
export function buildIccProfile({ name, colorants, curve }: IccColours): Buffer {
  const fixed = (values: readonly number[]): Buffer => {
    const bytes = Buffer.alloc(4 * values.length);
    for (const [i, value] of values.entries()) bytes.writeInt32BE(Math.round(value * 65536), 4 * i);
    return bytes;
  };
  const tagData = (type: string, content: Buffer): Buffer =>
    Buffer.concat([Buffer.from(type), Buffer.alloc(4), content]);
  const samples = typeof curve === 'number' ? [curve * 256] : curve.map((value) => value * 65535);
  const curveBytes = Buffer.alloc(4 + 2 * samples.length);
  curveBytes.writeUInt32BE(samples.length, 0);
  for (const [i, sample] of samples.entries()) curveBytes.writeUInt16BE(Math.round(sample), 4 + 2 * i);
  const text = Buffer.alloc(4 + name.length + 1 + 78);
  text.writeUInt32BE(name.length + 1, 0);
  text.write(name, 4, 'latin1');
  const tags: [string, Buffer][] = [
    ['desc', tagData('desc', text)],
    ['wtpt', tagData('XYZ ', fixed([0.9642, 1, 0.8249]))],
  ];
  for (const [i, colorant] of colorants.entries()) {
    tags.push([`${'rgb'[i]}XYZ`, tagData('XYZ ', fixed(colorant))], [`${'rgb'[i]}TRC`, tagData('curv', curveBytes)]);
  }
  if (colorants.length === 0) tags.push(['kTRC', tagData('curv', curveBytes)]);
  const table = Buffer.alloc(4 + 12 * tags.length);
  table.writeUInt32BE(tags.length, 0);
  let at = 128 + table.length;
  const contents: Buffer[] = [];
  for (const [i, [tag, content]] of tags.entries()) {
    const padded = Buffer.concat([content, Buffer.alloc((4 - (content.length % 4)) % 4)]);
    table.write(tag, 4 + 12 * i, 'latin1');
    table.writeUInt32BE(at, 8 + 12 * i);
    table.writeUInt32BE(content.length, 12 + 12 * i);
    contents.push(padded);
    at += padded.length;
  }
  const head = Buffer.alloc(128);
  head.writeUInt32BE(at, 0);
  head.writeUInt32BE(0x02100000, 8);
  head.write(`mntr${colorants.length === 0 ? 'GRAY' : 'RGB '}XYZ `, 12, 'latin1');
  head.write('acsp', 36, 'latin1');
  fixed([0.9642, 1, 0.8249]).copy(head, 68);
  return Buffer.concat([head, table, ...contents]);
}

export function isoMediaHead(...brands: string[]): Buffer {
  const [major, ...compatible] = brands;
  const head = Buffer.from(`\0\0\0\0ftyp${major}\0\0\0\0${compatible.join('')}`, 'latin1');
  head.writeUInt32BE(head.length, 0);
  return Buffer.concat([head, Buffer.alloc(64)]);
}
