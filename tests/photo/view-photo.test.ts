import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { viewPhoto } from '../../src/photo/view-photo.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'view-'));
});
afterAll(() => rm(folder, { recursive: true }));

const WIDTH = 60;
const HEIGHT = 40;
/** The left half dark, the right half light. */
const picture = () => {
  const data = Uint8Array.from({ length: WIDTH * HEIGHT * 3 }, (_, i) =>
    Math.floor(i / 3) % WIDTH < WIDTH / 2 ? 40 : 200,
  );
  return sharp(data, { raw: { width: WIDTH, height: HEIGHT, channels: 3 } });
};

async function store(name: string, bytes: Uint8Array): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, bytes);
  return path;
}

async function view(path: string, width?: number) {
  const viewed = await viewPhoto(path, width);
  if (viewed.outcome === 'refused') throw new Error(viewed.code);
  const metadata = await sharp(viewed.bytes).metadata();
  return { ...viewed, size: [metadata.width, metadata.height], depth: metadata.depth };
}

describe('viewPhoto', () => {
  it('hands out JPEG and PNG as they are', async () => {
    for (const [name, bytes, type] of [
      ['a.jpg', await picture().jpeg().toBuffer(), 'image/jpeg'],
      ['a.png', await picture().png().toBuffer(), 'image/png'],
    ] as const) {
      const path = await store(name, bytes);
      const viewed = await view(path);
      expect(viewed.type).toBe(type);
      expect(Buffer.compare(viewed.bytes, await readFile(path))).toBe(0);
    }
  });

  it('turns TIFF and 16 bits into 8-bit JPEG of the same size and light', async () => {
    const tiff = await store('a.tif', await picture().tiff({ compression: 'lzw' }).toBuffer());
    const deep = await store('deep.tif', await picture().toColourspace('rgb16').tiff().toBuffer());
    for (const path of [tiff, deep]) {
      const { bytes, type, size, depth } = await view(path);
      expect([type, size, depth]).toEqual(['image/jpeg', [WIDTH, HEIGHT], 'uchar']);
      const { data } = await sharp(bytes).raw().toBuffer({ resolveWithObject: true });
      expect(Math.abs(data[0]! - 40)).toBeLessThan(4);
      expect(Math.abs(data.at(-1)! - 200)).toBeLessThan(4);
    }
    expect(
      (await view(await store('deep.png', await picture().toColourspace('rgb16').png().toBuffer()), 30)).depth,
    ).toBe('uchar');
  });

  it('makes smaller views, upright and never larger than the photograph', async () => {
    const path = await store('turned.jpg', await picture().jpeg().withMetadata({ orientation: 6 }).toBuffer());
    expect((await view(path, 20)).size).toEqual([20, 30]);
    expect((await view(path, 4000)).size).toEqual([HEIGHT, WIDTH]);
  });

  it('lies in memory of its own', async () => {
    const { bytes } = await view(await store('own.jpg', await picture().jpeg().toBuffer()), 20);
    expect(bytes.buffer.byteLength).toBe(bytes.byteLength);
  });

  it('refuses what is no photograph, what is missing and what is damaged', async () => {
    expect(await viewPhoto(join(folder, 'none.jpg'))).toMatchObject({ code: 'unreadable-photo' });
    expect(await viewPhoto(await store('a.txt', Buffer.from('text')), 20)).toMatchObject({
      code: 'unsupported-format',
    });
    const cut = (await picture().png().toBuffer()).subarray(0, 60);
    expect(await viewPhoto(await store('cut.png', cut), 20)).toMatchObject({ code: 'unreadable-photo' });
  });
});
