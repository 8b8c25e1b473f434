import { createHash } from 'node:crypto';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  chooseMarks,
  makePictures,
  type Pictures,
  overlayPhotographs,
} from '../../../src/application/pictures/make-pictures.ts';
import type { Pixels } from '../../../src/imaging/pixels.ts';
import { encodePng } from '../../../src/photo/write-photo.ts';
import type { MeasuredReading } from '../../../src/record/reading.ts';
import { photographsOf } from '../name-photographs.ts';
import { sampleReading } from '../../report/sample-reading.ts';
import { linearFromSrgb } from '../../../src/imaging/srgb.ts';

/** Black photographs with one white square of 5 x 5 px at each mark, where the reading says it is. */
const size = { width: 4000, height: 3000 };
function photograph(eye: 'left' | 'right'): Pixels {
  const data = new Uint8Array(size.width * size.height);
  for (const mark of sampleReading.evidence.marks.filter((m) => m.eye === eye)) {
    const [x, y] = mark.photo_px.map(Math.round) as [number, number];
    for (let dy = -2; dy <= 2; dy++) data.fill(255, (y + dy) * size.width + x - 2, (y + dy) * size.width + x + 3);
  }
  return { ...size, channels: 1, data };
}

let folder: string;
let reading: MeasuredReading;
let pictures: Pictures;
const path = (eye: string) => join(folder, `${eye}.png`);

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'pictures-'));
  const shots = await Promise.all(
    (['left', 'right'] as const).map(async (eye, index) => {
      const png = await encodePng(photograph(eye));
      await writeFile(path(eye), png);
      return { ...sampleReading.shots[index]!, sha256: createHash('sha256').update(png).digest('hex') };
    }),
  );
  reading = { ...sampleReading, shots };
  pictures = await makePictures({ photographs: photographsOf(path('left'), path('right')), reading });
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function pixelsOf(jpeg: Uint8Array) {
  return sharp(jpeg).raw().toBuffer({ resolveWithObject: true });
}

describe('the pictures of a report', () => {
  it('lays the overlay where it says it is', async () => {
    const { jpeg, region } = pictures.overlay;
    const { data, info } = await pixelsOf(jpeg);
    const scale = region.width / info.width;
    expect(region.height / info.height).toBeCloseTo(scale, 9);
    for (const id of ['L-0-00', 'R-3-08']) {
      const mark = reading.evidence.marks.find((m) => m.id === id) ?? reading.evidence.marks[0]!;
      const column = Math.floor((mark.photo_px[0] - region.x) / scale);
      const row = Math.floor((mark.photo_px[1] - region.y) / scale);
      const [r, , b] = data.subarray(3 * (row * info.width + column));
      if (mark.eye === 'left') expect(r).toBeGreaterThan(b! + 60);
      else expect(b).toBeGreaterThan(r! + 60);
    }
  });

  it('cuts the same region out of both photographs, pixel for pixel, around the mark', async () => {
    expect(pictures.crops.map(({ place }) => place)).toEqual([
      'worst-residual',
      'centre',
      'upper-left',
      'upper-right',
      'lower-left',
      'lower-right',
    ]);
    for (const { markId, region, jpeg } of pictures.crops) {
      const mark = reading.evidence.marks.find((m) => m.id === markId)!;
      const own = await pixelsOf(jpeg[mark.shot]!);
      const other = await pixelsOf(jpeg[mark.shot === 'left-lens' ? 'right-lens' : 'left-lens']!);
      expect([own.info.width, own.info.height]).toEqual([region.width, region.height]);
      expect([other.info.width, other.info.height]).toEqual([region.width, region.height]);
      const x = Math.round(mark.photo_px[0] - region.x - 0.5);
      const y = Math.round(mark.photo_px[1] - region.y - 0.5);
      const at = (y * own.info.width + x) * own.info.channels;
      expect(own.data[at], markId).toBeGreaterThan(200);
      expect(other.data[at], markId).toBeLessThan(60);
    }
  });

  it('chooses the mark that fits worst among those used', () => {
    const marks = reading.evidence.marks.map((mark, index) => ({
      ...mark,
      residual_px: [index === 5 ? 0.5 : index === 6 ? 9 : 0.01, 0] as const,
      used: index !== 6,
    }));
    const chosen = chooseMarks({ ...reading, evidence: { ...reading.evidence, marks } });
    expect(chosen[0]).toEqual(['worst-residual', marks[5]]);
  });

  it('does not show a photograph that is not the one measured', async () => {
    await expect(makePictures({ photographs: photographsOf(path('right'), path('right')), reading })).rejects.toThrow(
      'changed',
    );
    await expect(makePictures({ photographs: photographsOf(path('none'), path('right')), reading })).rejects.toThrow(
      'changed',
    );
  });
});

/** Four columns: left alone, right alone, both, neither; a second row the same. */
const grey = (codes: readonly number[]): Pixels => ({
  width: 4,
  height: 2,
  channels: 1,
  data: Uint8Array.from([...codes, ...codes]),
});
const left = grey([255, 0, 255, 0]);
const right = grey([0, 255, 255, 0]);
const whole = { x0: 0, y0: 0, width: 4, height: 2 };

describe('photographs laid over each other', () => {
  const { data, ...form } = overlayPhotographs(left, right, whole, 1);
  const colour = (column: number) => [...data.subarray(3 * column, 3 * column + 3)];

  it('is orange where only the left lens has light, blue where only the right one has, white where both have', () => {
    expect(form).toEqual({ width: 4, height: 2, channels: 3 });
    const [r, g, b] = colour(0);
    expect(r).toBe(255);
    expect(g).toBeGreaterThan(b!);
    const blue = colour(1);
    expect(blue[0]).toBe(0);
    expect(blue[2]).toBeGreaterThan(blue[1]!);
    expect(colour(2)).toEqual([255, 255, 255]);
    expect(colour(3)).toEqual([0, 0, 0]);
  });

  it('adds light, not codes: orange and blue make white channel by channel', () => {
    for (let c = 0; c < 3; c++) {
      const sum = linearFromSrgb(colour(0)[c]! / 255) + linearFromSrgb(colour(1)[c]! / 255);
      expect(sum).toBeCloseTo(1, 1);
    }
  });

  it('takes the mean of the light when it makes the picture smaller, and leaves out what is over', () => {
    const small = overlayPhotographs(grey([255, 0, 255, 255]), grey([0, 0, 0, 0]), { ...whole, width: 3 }, 2);
    expect(small).toMatchObject({ width: 1, height: 1 });
    // One block alone is the brightest there is: its mean of one half is shown as white of the left lens.
    expect(small.data[0]).toBe(255);
  });

  it('gives both photographs the same strength', () => {
    const dim = overlayPhotographs(left, grey([0, 128, 128, 0]), whole, 1);
    expect([...dim.data.subarray(6, 9)]).toEqual([255, 255, 255]);
  });
});
