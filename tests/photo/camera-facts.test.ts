import * as ExifReader from 'exifreader';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { readCameraFacts } from '../../src/photo/camera-facts.ts';
import { asciiValues, buildTiff } from './hand-built-files.ts';

const MAIN = [
  { tag: 271, type: 2, values: asciiValues('Invented Optics ') },
  { tag: 272, type: 2, values: asciiValues('Box 1') },
];
const EXIF = [
  { tag: 33434, type: 5, values: [1, 8] },
  { tag: 33437, type: 5, values: [56, 10] },
  { tag: 34855, type: 3, values: [200] },
  { tag: 36867, type: 2, values: asciiValues('2026:11:25 14:03:22') },
  { tag: 37386, type: 5, values: [850, 10] },
  { tag: 41989, type: 3, values: [127] },
];
const FACTS = {
  exposureTime_s: 0.125,
  fNumber: 5.6,
  iso: 200,
  focalLength_mm: 85,
  focalLength35_mm: 127,
  takenAt: '2026:11:25 14:03:22',
  make: 'Invented Optics',
  model: 'Box 1',
};

describe('readCameraFacts', () => {
  it.each([false, true])('reads every fact (big-endian %s)', (bigEndian) => {
    const block = buildTiff([MAIN], { exif: EXIF, bigEndian });
    expect(readCameraFacts(block)).toEqual(FACTS);
    expect(readCameraFacts(Buffer.concat([Buffer.from('Exif\0\0'), block]))).toEqual(FACTS);
  });

  it('agrees with an independent reader (exifreader) on a file written by an independent writer', async () => {
    const jpeg = await sharp({ create: { width: 8, height: 8, channels: 3, background: 'grey' } })
      .withExif({
        IFD0: { Make: 'Invented Optics', Model: 'Box 2' },
        IFD2: {
          ExposureTime: '3/10',
          FNumber: '28/10',
          ISOSpeedRatings: '1600',
          FocalLength: '185/10',
          FocalLengthIn35mmFilm: '28',
          DateTimeOriginal: '2026:01:02 03:04:05',
        },
      })
      .jpeg()
      .toBuffer();
    const tags = ExifReader.load(jpeg);
    const ratio = (value: unknown): number => (value as [number, number])[0] / (value as [number, number])[1];
    const facts = readCameraFacts((await sharp(jpeg).metadata()).exif);
    expect(facts).toEqual({
      exposureTime_s: ratio(tags.ExposureTime?.value),
      fNumber: ratio(tags.FNumber?.value),
      iso: tags.ISOSpeedRatings?.value,
      focalLength_mm: ratio(tags.FocalLength?.value),
      focalLength35_mm: tags.FocalLengthIn35mmFilm?.value,
      takenAt: tags.DateTimeOriginal?.description,
      make: tags.Make?.description,
      model: tags.Model?.description,
    });
    expect(facts.exposureTime_s).toBe(0.3);
  });

  it('leaves out what is missing or senseless', () => {
    const exif = [
      { tag: 33434, type: 5, values: [1, 0] },
      { tag: 33437, type: 5, values: [0, 10] },
      { tag: 34855, type: 2, values: asciiValues('200') },
      { tag: 36867, type: 2, values: asciiValues('   ') },
    ];
    expect(readCameraFacts(buildTiff([[]], { exif }))).toEqual({});
    expect(readCameraFacts(buildTiff([MAIN]))).toEqual({ make: 'Invented Optics', model: 'Box 1' });
    expect(readCameraFacts(undefined)).toEqual({});
  });

  it('never throws, wherever the block is cut or damaged', () => {
    const block = buildTiff([MAIN], { exif: EXIF });
    for (let length = 0; length < block.length; length++) {
      expect(FACTS).toMatchObject(readCameraFacts(block.subarray(0, length)));
    }
    for (let at = 0; at < block.length; at++) {
      const damaged = Buffer.from(block);
      damaged[at] = 0xff;
      expect(readCameraFacts(damaged)).toBeTypeOf('object');
    }
  });

  it('ends at a loop of directories', () => {
    const block = buildTiff([MAIN]);
    block.writeUInt32LE(block.readUInt32LE(4), block.length - 4);
    expect(readCameraFacts(block)).toEqual({ make: 'Invented Optics', model: 'Box 1' });
  });
});
