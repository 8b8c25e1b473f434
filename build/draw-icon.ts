/**
 * Draws the program's icon in the forms that the three systems take, from build/icon.svg into build/icons:
 *
 *   npx tsx build/draw-icon.ts
 *
 * A Windows icon and a macOS icon are short tables of contents before PNG pictures, so they are written here.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';

const here = import.meta.dirname;
const folder = join(here, 'icons');
const drawing = readFileSync(join(here, 'icon.svg'));

const SIZES = [16, 24, 32, 48, 64, 128, 256, 512, 1024] as const;
type Size = (typeof SIZES)[number];
const WINDOWS_SIZES: readonly Size[] = [16, 24, 32, 48, 64, 128, 256];
const LINUX_SIZES: readonly Size[] = [16, 24, 32, 48, 64, 128, 256, 512];
/** Type of an entry in a macOS icon -> size of its PNG. */
const MAC_TYPES: readonly (readonly [string, Size])[] = [
  ['ic11', 32],
  ['ic12', 64],
  ['ic07', 128],
  ['ic13', 256],
  ['ic08', 256],
  ['ic14', 512],
  ['ic09', 512],
  ['ic10', 1024],
];

const pictures = new Map<Size, Buffer>();
for (const size of SIZES) {
  const picture = await sharp(drawing, { density: (72 * size) / 1024 })
    .resize(size, size)
    .png({ compressionLevel: 9 })
    .toBuffer();
  pictures.set(size, picture);
}

mkdirSync(folder, { recursive: true });
for (const size of LINUX_SIZES) writeFileSync(join(folder, `${size}x${size}.png`), pictures.get(size)!);
writeFileSync(join(folder, 'icon.ico'), windowsIcon());
writeFileSync(join(folder, 'icon.icns'), macIcon());

/** Header, one entry of 16 bytes for each picture, the pictures. A size of 256 is written as 0. */
function windowsIcon(): Buffer {
  const ENTRY = 16;
  const head = Buffer.alloc(6 + ENTRY * WINDOWS_SIZES.length);
  head.writeUInt16LE(1, 2);
  head.writeUInt16LE(WINDOWS_SIZES.length, 4);
  let offset = head.length;
  WINDOWS_SIZES.forEach((size, i) => {
    const at = 6 + ENTRY * i;
    const { length } = pictures.get(size)!;
    head.writeUInt8(size % 256, at);
    head.writeUInt8(size % 256, at + 1);
    head.writeUInt16LE(1, at + 4);
    head.writeUInt16LE(32, at + 6);
    head.writeUInt32LE(length, at + 8);
    head.writeUInt32LE(offset, at + 12);
    offset += length;
  });
  return Buffer.concat([head, ...WINDOWS_SIZES.map((size) => pictures.get(size)!)]);
}

/** `icns`, the whole length, then type, length and picture of each entry; lengths count their own eight bytes. */
function macIcon(): Buffer {
  const entries = MAC_TYPES.flatMap(([type, size]) => {
    const picture = pictures.get(size)!;
    return [chunkHead(type, picture.length), picture];
  });
  const body = Buffer.concat(entries);
  return Buffer.concat([chunkHead('icns', body.length), body]);
}

function chunkHead(type: string, length: number): Buffer {
  const head = Buffer.alloc(8);
  head.write(type, 0, 'latin1');
  head.writeUInt32BE(length + 8, 4);
  return head;
}
