import { deflateSync } from 'node:zlib';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { linearFromSrgb, srgbFromLinear } from '../../src/imaging/srgb.ts';
import { readPhoto } from '../../src/photo/read-photo.ts';
import { buildIccProfile, buildTiff, greyDirectory, pngPromising, SRGB_D50, withPngChunk } from './hand-built-files.ts';
import {
  COLOUR,
  DEEP,
  expectRefusal,
  GREY,
  HEIGHT,
  picture,
  readBack,
  store,
  storeInFolder,
  WIDTH,
} from './stored-pictures.ts';

storeInFolder();

describe('orientation', () => {
  // Where the stored pixel (x, y) belongs in the upright picture of size w x h (Exif 2.32, tag Orientation).
  const place: Record<number, (x: number, y: number, w: number, h: number) => [number, number]> = {
    1: (x, y) => [x, y],
    2: (x, y, w) => [w - 1 - x, y],
    3: (x, y, w, h) => [w - 1 - x, h - 1 - y],
    4: (x, y, _w, h) => [x, h - 1 - y],
    5: (x, y) => [y, x],
    6: (x, y, w) => [w - 1 - y, x],
    7: (x, y, w, h) => [w - 1 - y, h - 1 - x],
    8: (x, y, _w, h) => [y, h - 1 - x],
  };

  it.each(
    [1, 2, 3, 4, 5, 6, 7, 8].flatMap((orientation) => ['png', 'tiff'].map((kind) => [orientation, kind] as const)),
  )('stored orientation %d in %s gives the same upright pixels', async (orientation, kind) => {
    const turned = orientation >= 5;
    const [storedWidth, storedHeight] = turned ? [HEIGHT, WIDTH] : [WIDTH, HEIGHT];
    const stored = new Uint8Array(COLOUR.length);
    for (let y = 0; y < storedHeight; y++) {
      for (let x = 0; x < storedWidth; x++) {
        const [u, v] = place[orientation](x, y, WIDTH, HEIGHT);
        for (let c = 0; c < 3; c++) stored[(y * storedWidth + x) * 3 + c] = COLOUR[(v * WIDTH + u) * 3 + c];
      }
    }
    const raw = sharp(stored, { raw: { width: storedWidth, height: storedHeight, channels: 3 } });
    const encoded = raw.withMetadata({ orientation });
    const bytes = await (kind === 'png' ? encoded.png() : encoded.tiff({ compression: 'none' })).toBuffer();
    const photo = await readBack(`turned-${orientation}.${kind}`, bytes);
    expect([photo.orientation, photo.width, photo.height]).toEqual([orientation, WIDTH, HEIGHT]);
    expect(photo.pixels.data).toEqual(COLOUR);
  });

  it('is taken from the Exif block of a JPEG', async () => {
    const bytes = await picture(COLOUR, 3).withMetadata({ orientation: 6 }).jpeg().toBuffer();
    const photo = await readBack('portrait.jpg', bytes);
    expect([photo.orientation, photo.width, photo.height]).toEqual([6, HEIGHT, WIDTH]);
  });
});

describe('colour profiles', () => {
  const flat = (code: number): Uint8Array => new Uint8Array(WIDTH * HEIGHT * 3).fill(code);
  const srgbCurve = Array.from({ length: 1024 }, (_, i) => linearFromSrgb(i / 1023));

  async function withProfile(data: Uint8Array, channels: 1 | 3, profile: Buffer): Promise<Buffer> {
    // Embedded as a chunk: an encoder would convert the samples on their way into the test file.
    const png = await picture(data, channels)
      .toColourspace(channels === 1 ? 'b-w' : 'srgb')
      .png()
      .toBuffer();
    return withPngChunk(png, 'iCCP', Buffer.concat([Buffer.from('profile\0\0'), deflateSync(profile)]));
  }

  it('leaves samples alone when the profile is sRGB by its numbers', async () => {
    const profile = buildIccProfile({ name: 'camera 7', colorants: SRGB_D50, curve: srgbCurve });
    const photo = await readBack('srgb.png', await withProfile(COLOUR as Uint8Array, 3, profile));
    expect(photo.colourProfile).toEqual({ name: 'camera 7', converted: false });
    expect(photo.pixels.data).toEqual(COLOUR);
  });

  it.each([40, 128, 200])('converts code %d of a linear-light profile to sRGB', async (code) => {
    const profile = buildIccProfile({ name: 'linear', colorants: SRGB_D50, curve: [0, 1] });
    const photo = await readBack('linear.png', await withProfile(flat(code), 3, profile));
    expect(photo.colourProfile).toEqual({ name: 'linear', converted: true });
    const expected = 255 * srgbFromLinear(code / 255);
    for (const channel of [0, 1, 2]) expect(Math.abs(photo.pixels.data[channel] - expected)).toBeLessThanOrEqual(1.5);
  });

  it('converts grey and keeps one channel', async () => {
    const profile = buildIccProfile({ name: 'grey 1.8', colorants: [], curve: 1.80078125 });
    const photo = await readBack('grey.png', await withProfile(flat(128).subarray(0, GREY.length), 1, profile));
    expect([photo.pixels.channels, photo.colourProfile.converted]).toEqual([1, true]);
    const expected = 255 * srgbFromLinear((128 / 255) ** 1.80078125);
    expect(Math.abs(photo.pixels.data[0] - expected)).toBeLessThanOrEqual(1.5);
  });

  it('brings a wide-gamut photograph back to the sRGB it was made from, in 8 and in 16 bit', async () => {
    const muted = COLOUR.map((value) => 90 + value / 4);
    const shallow = await picture(muted, 3).withIccProfile('p3').png().toBuffer();
    const photo = await readBack('wide.png', shallow);
    expect(photo.colourProfile).toEqual({ name: expect.stringMatching(/P3/i), converted: true });
    expect(Math.max(...muted.map((value, i) => Math.abs(value - photo.pixels.data[i])))).toBeLessThanOrEqual(1);

    const mutedDeep = DEEP.map((value) => 23000 + value / 4);
    const deep = await picture(mutedDeep, 3).toColourspace('rgb16').withIccProfile('p3').png().toBuffer();
    const deepPhoto = await readBack('wide16.png', deep);
    expect([deepPhoto.bitDepth, deepPhoto.colourProfile.converted]).toEqual([16, true]);
    expect(Math.max(...mutedDeep.map((value, i) => Math.abs(value - deepPhoto.pixels.data[i])))).toBeLessThanOrEqual(8);
  });
});

describe('a file that is cut or damaged', () => {
  const encoders = {
    'baseline JPEG': ['JPEG', () => picture(COLOUR, 3).jpeg()],
    'progressive JPEG': ['JPEG', () => picture(COLOUR, 3).jpeg({ progressive: true })],
    PNG: ['PNG', () => picture(COLOUR, 3).png()],
    'plain TIFF': ['TIFF', () => picture(COLOUR, 3).tiff({ compression: 'none' })],
    'LZW TIFF': ['TIFF', () => picture(COLOUR, 3).tiff({ compression: 'lzw' })],
  } as const;
  const parts = [0.1, 0.5, 0.9, 0.99];

  it.each(
    Object.entries(encoders).flatMap(([name, [format, encode]]) =>
      parts.map((part) => ({ name, format, encode, part })),
    ),
  )('$name cut to $part', async ({ format, encode, part }) => {
    const bytes = await encode().toBuffer();
    const path = await store('cut', bytes.subarray(0, Math.floor(bytes.length * part)));
    await expectRefusal(path, 'unreadable-photo', { reason: 'truncated', format });
  });

  it.each(['JPEG', 'PNG'] as const)('%s without its last two bytes', async (format) => {
    const bytes = await (format === 'JPEG' ? picture(COLOUR, 3).jpeg() : picture(COLOUR, 3).png()).toBuffer();
    await expectRefusal(await store('cut', bytes.subarray(0, -2)), 'unreadable-photo', { reason: 'truncated', format });
  });

  it('a TIFF whose directory stands before pixels that end too early', async () => {
    const pixels = Buffer.from(GREY);
    const whole = buildTiff([greyDirectory(WIDTH, HEIGHT)], { pixels });
    const longer = buildTiff([greyDirectory(WIDTH, HEIGHT * 2)], { pixels });
    expect((await readBack('whole.tif', whole)).pixels.data).toEqual(GREY);
    await expectRefusal(await store('cut.tif', longer), 'unreadable-photo', { reason: 'truncated', format: 'TIFF' });
  });

  it.each([
    ['JPEG', () => picture(COLOUR, 3).jpeg({ progressive: true })],
    ['PNG', () => picture(COLOUR, 3).png()],
    ['TIFF', () => picture(COLOUR, 3).tiff({ compression: 'lzw' })],
    ['TIFF', () => picture(COLOUR, 3).tiff({ compression: 'deflate' })],
  ] as const)('%s with a hole of zeros', async (format, encode) => {
    const bytes = Buffer.from(await encode().toBuffer());
    bytes.fill(0, Math.floor(bytes.length * 0.6), Math.floor(bytes.length * 0.7));
    await expectRefusal(await store('hole', bytes), 'unreadable-photo', { reason: 'damaged', format });
  });

  it('a JPEG that is only a head', async () => {
    const path = await store('head.jpg', Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 16, 0x4a]));
    expect(await readPhoto(path)).toMatchObject({ code: 'unreadable-photo', facts: { format: 'JPEG' } });
  });

  it('a PNG with garbage for a header', async () => {
    const png = await picture(GREY, 1).png().toBuffer();
    const path = await store('garbage.png', pngPromising(png, 0, 0));
    await expectRefusal(path, 'unreadable-photo', { reason: 'damaged', format: 'PNG' });
  });
});
