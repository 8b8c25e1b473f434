import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { chmod, mkdir, open } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { buildTiff, greyDirectory, isoMediaHead, pngPromising, withPngChunk } from './hand-built-files.ts';
import {
  COLOUR,
  DEEP,
  DEEP_GREY,
  expectRefusal,
  GREY,
  HEIGHT,
  pathOf,
  picture,
  readBack,
  store,
  storeInFolder,
  WIDTH,
} from './stored-pictures.ts';

storeInFolder();

describe('a photograph that is fine', () => {
  it('comes with its hash, size and facts', async () => {
    const bytes = await picture(COLOUR, 3)
      .withExif({ IFD0: { Make: 'Invented' } })
      .jpeg()
      .toBuffer();
    const photo = await readBack('left.jpg', bytes);
    expect({ ...photo, pixels: undefined }).toEqual({
      file: pathOf('left.jpg'),
      sha256: createHash('sha256').update(bytes).digest('hex'),
      bytes: bytes.length,
      format: 'JPEG',
      width: WIDTH,
      height: HEIGHT,
      bitDepth: 8,
      pixels: undefined,
      orientation: 1,
      colourProfile: { name: null, converted: false },
      camera: { make: 'Invented' },
    });
    expect([photo.pixels.width, photo.pixels.height, photo.pixels.channels]).toEqual([WIDTH, HEIGHT, 3]);
    expect(photo.pixels.data).toHaveLength(COLOUR.length);
  });

  it.each([
    ['8-bit colour PNG', () => picture(COLOUR, 3).png(), COLOUR],
    ['8-bit grey PNG', () => picture(GREY, 1).toColourspace('b-w').png(), GREY],
    ['16-bit colour PNG', () => picture(DEEP, 3).toColourspace('rgb16').png(), DEEP],
    ['16-bit grey PNG', () => picture(DEEP_GREY, 1).toColourspace('grey16').png(), DEEP_GREY],
    ['8-bit colour TIFF', () => picture(COLOUR, 3).tiff({ compression: 'none' }), COLOUR],
    ['8-bit grey TIFF', () => picture(GREY, 1).toColourspace('b-w').tiff({ compression: 'deflate' }), GREY],
    ['16-bit colour TIFF', () => picture(DEEP, 3).toColourspace('rgb16').tiff({ compression: 'lzw' }), DEEP],
    [
      '16-bit tiled TIFF',
      () => picture(DEEP, 3).toColourspace('rgb16').tiff({ tile: true, compression: 'none' }),
      DEEP,
    ],
    ['16-bit grey TIFF', () => picture(DEEP_GREY, 1).toColourspace('grey16').tiff({ compression: 'none' }), DEEP_GREY],
  ])('keeps every sample: %s', async (name, encode, samples) => {
    const photo = await readBack(`${name}.bin`, await encode().toBuffer());
    expect(photo.bitDepth).toBe(samples instanceof Uint8Array ? 8 : 16);
    expect(photo.pixels.data).toEqual(samples);
  });

  it('keeps one channel for a grey JPEG and the samples of the decoder', async () => {
    const photo = await readBack(
      'grey.jpg',
      await picture(GREY, 1).toColourspace('b-w').jpeg({ quality: 100 }).toBuffer(),
    );
    expect(photo.pixels.channels).toBe(1);
    const errors = GREY.map((value, i) => Math.abs(value - photo.pixels.data[i]));
    expect(Math.max(...errors)).toBeLessThanOrEqual(2);
  });

  it('reads palettes as colour', async () => {
    const flat = COLOUR.map((value) => (value > 127 ? 255 : 0));
    const photo = await readBack('palette.png', await picture(flat, 3).png({ palette: true, colours: 16 }).toBuffer());
    expect(photo.pixels.channels).toBe(3);
    expect(photo.pixels.data).toEqual(flat);
  });

  it.each([
    [3, COLOUR],
    [1, GREY],
  ] as const)('drops an alpha channel that is opaque everywhere (%d colour channels)', async (channels, samples) => {
    const space = channels === 1 ? 'b-w' : 'srgb';
    const bytes = await picture(samples, channels).toColourspace(space).ensureAlpha(1).png().toBuffer();
    expect((await sharp(bytes).metadata()).hasAlpha).toBe(true);
    const photo = await readBack('opaque.png', bytes);
    expect(photo.pixels.channels).toBe(channels);
    expect(photo.pixels.data).toEqual(samples);
  });

  it.each(['with spaces in it.png', 'Größe – 左目.png', "quote's & 100%.png", '-leading dash.png', 'no extension'])(
    'whatever its name: %s',
    async (name) => {
      expect((await readBack(name, await picture(GREY, 1).png().toBuffer())).file).toBe(pathOf(name));
    },
  );

  it('is recognised by its bytes, not by its name', async () => {
    expect((await readBack('really-a-png.jpg', await picture(COLOUR, 3).png().toBuffer())).format).toBe('PNG');
  });

  it('may have stray bytes where cameras leave them', async () => {
    const jpeg = await picture(COLOUR, 3).jpeg().toBuffer();
    const clean = (await readBack('clean.jpg', jpeg)).pixels.data;
    const frame = jpeg.indexOf(Buffer.from([0xff, 0xc0]));
    const insert = (at: number, bytes: number[]): Buffer =>
      Buffer.concat([jpeg.subarray(0, at), Buffer.from(bytes), jpeg.subarray(at)]);
    const variants = {
      trailing: Buffer.concat([jpeg, Buffer.alloc(5000, 7)]),
      'second picture behind': Buffer.concat([jpeg, jpeg]),
      'private segment': insert(2, [0xff, 0xef, 0, 5, 1, 2, 3]),
      'fill bytes': insert(2, [0xff, 0xff]),
      'stray before segment': insert(frame, [1, 2, 3]),
    };
    for (const [name, bytes] of Object.entries(variants)) {
      expect((await readBack(`${name}.jpg`, bytes)).pixels.data, name).toEqual(clean);
    }
  });

  it('may be a TIFF with private tags, an ill-formed date or a small copy beside the picture', async () => {
    const pixels = Buffer.from(GREY);
    const grey = greyDirectory(WIDTH, HEIGHT);
    const small = [...greyDirectory(12, 8), { tag: 254, type: 4, values: [1] }];
    const variants = {
      private: [[...grey, { tag: 65000, type: 3, values: [7] }]],
      date: [[...grey, { tag: 306, type: 2, values: [0x32, 0, 0x30, 0] }]],
      'small copy': [grey, small],
    };
    for (const [name, directories] of Object.entries(variants)) {
      const photo = await readBack(`${name}.tif`, buildTiff(directories, { pixels }));
      expect(photo.pixels.data, name).toEqual(GREY);
    }
  });
});

describe('a file that cannot be read', () => {
  it('missing', async () => {
    await expectRefusal(pathOf('nowhere.jpg'), 'unreadable-photo', { reason: 'missing', system_code: 'ENOENT' });
    const file = await store('file.png', Buffer.from('x'));
    await expectRefusal(join(file, 'x'), 'unreadable-photo', { reason: 'missing', system_code: 'ENOTDIR' });
    await expectRefusal('a\0b.jpg', 'unreadable-photo', { reason: 'missing', system_code: 'ERR_INVALID_ARG_VALUE' });
  });

  it('directory', async () => {
    await mkdir(pathOf('folder.jpg'));
    await expectRefusal(pathOf('folder.jpg'), 'unreadable-photo', { reason: 'directory' });
  });

  it('empty', async () => {
    await expectRefusal(await store('empty.jpg', Buffer.alloc(0)), 'unreadable-photo', { reason: 'empty' });
  });

  it.skipIf(process.platform === 'win32')('a named pipe, without waiting for a writer', async () => {
    execFileSync('mkfifo', [pathOf('pipe.jpg')]);
    await expectRefusal(pathOf('pipe.jpg'), 'unreadable-photo', { reason: 'not-a-file' });
  });

  it('without permission', async ({ skip }) => {
    skip(process.getuid?.() === 0, 'the superuser may read everything, so the refusal cannot be provoked');
    const path = await store('locked.jpg', await picture(GREY, 1).jpeg().toBuffer());
    await chmod(path, 0);
    await expectRefusal(path, 'unreadable-photo', { reason: 'no-permission', system_code: 'EACCES' });
  });

  it('too large a file, judged before it is read', async () => {
    const path = pathOf('huge.tif');
    const file = await open(path, 'w');
    await file.truncate(600 * 2 ** 20);
    await file.close();
    await expectRefusal(path, 'photo-too-large', { reason: 'file-size', file_mib: 600, limit_mib: 512 });
  });
});

describe('a file of another kind', () => {
  const refusedAs = async (bytes: Uint8Array, facts: Record<string, unknown>): Promise<void> =>
    expectRefusal(await store('other', bytes), 'unsupported-format', facts);

  it('names the format that it is', async () => {
    await refusedAs(isoMediaHead('heic', 'mif1'), { reason: 'format', format: 'HEIC' });
    await refusedAs(await picture(COLOUR, 3).webp().toBuffer(), { reason: 'format', format: 'WebP' });
    await refusedAs(await picture(COLOUR, 3).gif().toBuffer(), { reason: 'format', format: 'GIF' });
    await refusedAs(await picture(COLOUR, 3).avif({ effort: 0 }).toBuffer(), { reason: 'format', format: 'AVIF' });
    await refusedAs(Buffer.from('notes\n'), { reason: 'format', format: 'text' });
    await refusedAs(Buffer.from([0, 1, 2, 3, 4, 5]), { reason: 'format', format: 'unknown' });
    const raw = [...greyDirectory(WIDTH, HEIGHT), { tag: 50706, type: 1, values: [1, 4, 0, 0] }];
    await refusedAs(buildTiff([raw], { pixels: Buffer.from(GREY) }), { reason: 'format', format: 'DNG' });
    await refusedAs(await picture(COLOUR, 3).tiff({ bigtiff: true }).toBuffer(), {
      reason: 'format',
      format: 'BigTIFF',
    });
  });

  it('animation', async () => {
    const png = await picture(GREY, 1).png().toBuffer();
    const animated = withPngChunk(png, 'acTL', Buffer.from([0, 0, 0, 2, 0, 0, 0, 0]));
    await refusedAs(animated, { reason: 'animation', format: 'PNG' });
  });

  it('several pages', async () => {
    const grey = greyDirectory(WIDTH, HEIGHT);
    const bytes = buildTiff([grey, grey], { pixels: Buffer.from(GREY) });
    expect((await sharp(bytes).metadata()).pages).toBe(2);
    await refusedAs(bytes, { reason: 'several-pages', format: 'TIFF' });
  });

  it('transparency, even of one pixel', async () => {
    const withAlpha = Uint8Array.from({ length: WIDTH * HEIGHT * 4 }, (_, i) => (i % 4 === 3 ? 255 : 100));
    withAlpha[4 * 500 + 3] = 254;
    await refusedAs(await picture(withAlpha, 4).png().toBuffer(), { reason: 'transparency', format: 'PNG' });
  });

  it('print colours', async () => {
    const bytes = await picture(COLOUR, 3).toColourspace('cmyk').jpeg().toBuffer();
    await refusedAs(bytes, { reason: 'colour-model', format: 'JPEG', colour_model: 'cmyk' });
  });

  it('samples that are not 8 or 16 bits', async () => {
    const bytes = await picture(COLOUR, 3).toColourspace('scrgb').raw({ depth: 'float' }).toBuffer();
    const floats = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4);
    const tiff = await sharp(floats, { raw: { width: WIDTH, height: HEIGHT, channels: 3 } })
      .toColourspace('scrgb')
      .tiff({ compression: 'none' })
      .toBuffer();
    const { depth } = await sharp(tiff).metadata();
    expect(depth).toBe('float');
    await refusedAs(tiff, { reason: 'sample-depth', format: 'TIFF', sample_depth: 'float' });
  });

  it('a PNG that codes brightness differently', async () => {
    const png = await picture(GREY, 1).toColourspace('b-w').png().toBuffer();
    const gamma = (value: number): Buffer => {
      const content = Buffer.alloc(4);
      content.writeUInt32BE(value);
      return withPngChunk(png, 'gAMA', content);
    };
    await refusedAs(gamma(100_000), { reason: 'gamma', format: 'PNG' });
    const perceptualQuantiser = withPngChunk(png, 'cICP', Buffer.from([9, 16, 0, 1]));
    await refusedAs(perceptualQuantiser, { reason: 'gamma', format: 'PNG' });
    expect((await readBack('gamma.png', gamma(45_455))).pixels.data).toEqual(GREY);
    expect((await readBack('cicp.png', withPngChunk(png, 'cICP', Buffer.from([1, 13, 0, 1])))).format).toBe('PNG');
  });

  it.each([
    [60_000, 60_000, 3600],
    [12_001, 10_000, 120.1],
  ])('promises %d x %d pixels: refused by its header', async (width, height, megapixels) => {
    const bomb = pngPromising(await picture(GREY, 1).png().toBuffer(), width, height);
    const before = process.memoryUsage().rss;
    const path = await store('bomb.png', bomb);
    await expectRefusal(path, 'photo-too-large', { reason: 'pixel-count', megapixels, limit_megapixels: 120 });
    expect(process.memoryUsage().rss - before).toBeLessThan(50e6);
  });
});
