/** The same photographs in the forms in which they come from cameras and developing programs. */
import { readFile } from 'node:fs/promises';
import sharp, { type Sharp } from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Pixels } from '../../src/imaging/pixels.ts';
import { expectMeasured, expectTrue } from './run-measure-command.ts';
import {
  exposeThrough,
  render,
  type Setting,
  store,
  storeInFolder,
  storePicture,
  truthOf,
} from './simulated-photographs.ts';

storeInFolder();

let setting: Setting;
let left: Pixels;
let right: Pixels;
beforeAll(() => {
  setting = render();
  left = exposeThrough(setting, 'left');
  right = exposeThrough(setting, 'right');
});

const FORMS: readonly (readonly [string, (picture: Sharp) => Sharp])[] = [
  ['grey.jpg', (p) => p.greyscale().jpeg({ quality: 92 })],
  ['progressive.jpg', (p) => p.jpeg({ quality: 92, progressive: true })],
  ['full-colour.jpg', (p) => p.jpeg({ quality: 92, chromaSubsampling: '4:4:4' })],
  ['quality-60.jpg', (p) => p.jpeg({ quality: 60 })],
  ['quality-30.jpg', (p) => p.jpeg({ quality: 30 })],
  ['eight-bit.png', (p) => p.png({ compressionLevel: 1 })],
  ['sixteen-bit.png', (p) => p.toColourspace('rgb16').png({ compressionLevel: 1 })],
  ['sixteen-bit.tif', (p) => p.toColourspace('rgb16').tiff({ compression: 'none' })],
];

it.each(FORMS)('%s', async (name, form) => {
  const l = await storePicture(`left-${name}`, left, form as (picture: Sharp) => Sharp);
  const r = await storePicture(`right-${name}`, right, form as (picture: Sharp) => Sharp);
  const reading = await expectMeasured(l, r);
  expectTrue(reading, truthOf(setting));
  expect(reading.eyes.assignment).toBe('correct');
});

it('one photograph grey, the other in colour', async () => {
  const l = await storePicture('mixed-l.jpg', left, (p) => p.greyscale().jpeg({ quality: 92 }));
  expectTrue(await expectMeasured(l, await storePicture('mixed-r.jpg', right)), truthOf(setting));
});

describe('turned and scaled', () => {
  const both = async (name: string, how: (picture: Sharp) => Sharp) => {
    const made = async (pixels: Pixels, lens: string) => {
      const jpeg = await storePicture(`${lens}-before-${name}.jpg`, pixels, (p) => p.jpeg({ quality: 96 }));
      return store(
        `${lens}-${name}.jpg`,
        await how(sharp(await readFile(jpeg)))
          .jpeg({ quality: 96 })
          .toBuffer(),
      );
    };
    return [await made(left, 'left'), await made(right, 'right')] as const;
  };

  it('a camera held upright, told by the flag in both files', async () => {
    const reading = await expectMeasured(
      ...(await both('flagged', (p) => p.rotate(270).withMetadata({ orientation: 6 }))),
    );
    expectTrue(reading, truthOf(setting));
    expect([reading.shots[0]!.width_px, reading.shots[0]!.height_px]).toEqual([2000, 1300]);
  });

  it('a camera held upright without a flag: the target tells', async () => {
    expectTrue(await expectMeasured(...(await both('turned', (p) => p.rotate(90)))), truthOf(setting));
  });

  it('both reduced to a half', async () => {
    expectTrue(await expectMeasured(...(await both('half', (p) => p.resize(1000)))), truthOf(setting));
  });

  it('both enlarged', async () => {
    expectTrue(await expectMeasured(...(await both('larger', (p) => p.resize(3000)))), truthOf(setting));
  });
});
