/** Files that are no photographs that can be read: each with its code, the lens it was given for, a sentence and a remedy. */
import { chmod, mkdir, readFile, unlink } from 'node:fs/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildTiff, greyDirectory, pngPromising, withPngChunk } from '../photo/hand-built-files.ts';
import { expectRefusal, run, runMeasure } from './run-measure-command.ts';
import {
  exposeThrough,
  pathOf,
  pictureOf,
  render,
  store,
  storeInFolder,
  storePicture,
} from './simulated-photographs.ts';

storeInFolder();

let good = '';
let jpeg: Buffer;
let png: Buffer;

beforeAll(async () => {
  const pixels = exposeThrough(render(), 'right');
  good = await storePicture('good.jpg', pixels);
  jpeg = await readFile(good);
  png = await pictureOf(pixels).resize(64).png().toBuffer();
});

/** A file of the ISO base media format that begins with this brand. */
function ofBrand(brand: string): Buffer {
  const box = Buffer.alloc(24);
  box.writeUInt32BE(24, 0);
  box.write(`ftyp${brand}\0\0\0\0mif1${brand}`, 4, 'latin1');
  return Buffer.concat([box, Buffer.alloc(400, 3)]);
}

const FILES: readonly (readonly [string, () => Uint8Array, string, RegExp, RegExp])[] = [
  ['text', () => Buffer.from('no picture at all\n'), 'unsupported-format', /text file/, /right file/],
  ['bytes without meaning', () => Buffer.alloc(5000, 0xa7), 'unsupported-format', /not a picture file/, /JPEG/],
  ['cut short', () => jpeg.subarray(0, jpeg.length / 2), 'unreadable-photo', /cut short/, /copy/i],
  ['cut short within the header', () => jpeg.subarray(0, 40), 'unreadable-photo', /cut short|damaged/, /copy/i],
  ['empty', () => Buffer.alloc(0), 'unreadable-photo', /empty file/, /camera again/],
  ['HEIC', () => ofBrand('heic'), 'unsupported-format', /HEIC/, /export the photograph as JPEG/],
  [
    'DNG',
    () =>
      buildTiff([[...greyDirectory(8, 8), { tag: 50706, type: 1, values: [1, 4, 0, 0] }]], {
        pixels: Buffer.alloc(64),
      }),
    'unsupported-format',
    /raw file \(DNG\)/,
    /Develop it to a 16-bit TIFF/,
  ],
  ['film', () => ofBrand('isom'), 'unsupported-format', /video, not a photograph/, /still photograph/],
  [
    'animation',
    () => withPngChunk(png, 'acTL', Buffer.from([0, 0, 0, 2, 0, 0, 0, 0])),
    'unsupported-format',
    /animation/,
    /one still picture/,
  ],
  [
    'decompression bomb',
    () => pngPromising(png, 60_000, 60_000),
    'photo-too-large',
    /3600 megapixels/,
    /50 megapixels/,
  ],
];

describe('a file that is', () => {
  it.each(FILES)('%s', async (name, bytes, code, message, remedy) => {
    const bad = await store(`bad ${name}.jpg`, bytes());
    const asLeft = await expectRefusal(bad, good, code, 'left-lens');
    expect(asLeft.message).toMatch(message);
    expect(asLeft.message).toContain('left lens');
    expect(asLeft.remedy).toMatch(remedy);
    const asRight = await expectRefusal(good, bad, code, 'right-lens');
    expect(asRight.message).toBe(asLeft.message.replace('left lens', 'right lens'));
  });

  it('a folder', async () => {
    await mkdir(pathOf('folder.jpg'), { recursive: true });
    const { message } = await expectRefusal(pathOf('folder.jpg'), good, 'unreadable-photo', 'left-lens');
    expect(message).toMatch(/folder/);
  });

  it('missing, or taken away again', async () => {
    const gone = await store('gone.jpg', jpeg);
    await unlink(gone);
    const { message, remedy } = await expectRefusal(good, gone, 'unreadable-photo', 'right-lens');
    expect(message).toMatch(/does not exist/);
    expect(remedy).toMatch(/spelling/);
  });

  it('not to be read by this user', async ({ skip }) => {
    if (process.getuid?.() === 0) skip('the superuser may read everything');
    const closed = await store('closed.jpg', jpeg);
    await chmod(closed, 0);
    await expectRefusal(closed, good, 'unreadable-photo', 'left-lens');
  });
});

it('says the sentence and the remedy to people, with the same status', async () => {
  const empty = await store('empty.jpg', Buffer.alloc(0));
  const { status, stdout, stderr } = await runMeasure(empty, good);
  expect(status).toBe(2);
  expect(stderr).toBe('');
  expect(stdout).toMatch(/^The photograph through the left lens (\(\S+\) )?is an empty file\.\n/);
  expect(stdout).toContain('Copy it from the camera again.');
});

describe('wrong usage ends with status 64, a reason and nothing on stdout', () => {
  const meridian = async () => JSON.parse(await readFile('test-images/meridian.house.json', 'utf8')) as object;
  const houses: readonly (readonly [string, () => Promise<string>, RegExp])[] = [
    ['broken', async () => '{"schema": ', /not valid JSON/],
    ['of another kind', async () => '{"schema": "else/1"}', /twinplumb\.house\/1/],
    ['of a newer version', async () => JSON.stringify({ ...(await meridian()), schema: 'twinplumb.house/2' }), /newer/],
    ['with an unknown field', async () => JSON.stringify({ ...(await meridian()), thrown_m: 3 }), /thrown_m/],
  ];

  it.each(houses)('a house file %s', async (name, content, reason) => {
    const house = await store(`house ${name}.json`, Buffer.from(await content()));
    const { status, stdout, stderr } = await runMeasure(good, good, '--json', '--house', house);
    expect([status, stdout]).toEqual([64, '']);
    expect(stderr).toMatch(reason);
  });

  it('a house file that does not exist', async () => {
    const { status, stdout, stderr } = await runMeasure(good, good, '--house', pathOf('no-house.json'));
    expect([status, stdout]).toEqual([64, '']);
    expect(stderr).toMatch(/cannot be read/);
  });

  it.each([
    ['no photograph', ['measure']],
    ['one photograph', ['measure', '--left', 'a.jpg']],
    ['an unknown option', ['measure', '--left', 'a.jpg', '--right', 'b.jpg', '--fast']],
    ['an unknown command', ['improve']],
    ['a picture shape that is no number', ['measure', '--left', 'a.jpg', '--right', 'b.jpg', '--aspect', 'wide']],
    ['an impossible picture shape', ['measure', '--left', 'a.jpg', '--right', 'b.jpg', '--aspect', '9']],
  ])('%s', async (_name, words) => {
    const { status, stdout, stderr } = await run(words);
    expect([status, stdout]).toEqual([64, '']);
    expect(stderr.trim()).not.toBe('');
  });
});
