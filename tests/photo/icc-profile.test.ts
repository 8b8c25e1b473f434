import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';
import { readIccProfile } from '../../src/photo/icc-profile.ts';
import { buildIccProfile, SRGB_D50 } from './hand-built-files.ts';

const SRGB_CURVE = Array.from({ length: 1024 }, (_, i) => linearFromSrgb(i / 1023));
/** IEC 61966-2-5 (opRGB) primaries adapted to D50. */
const OPRGB_D50: [number, number, number][] = [
  [0.60974, 0.31111, 0.01947],
  [0.20528, 0.62567, 0.06087],
  [0.14919, 0.06322, 0.74457],
];

async function embedded(name: 'srgb' | 'p3'): Promise<Buffer> {
  const grey = sharp({ create: { width: 4, height: 4, channels: 3, background: 'grey' } });
  const { icc } = await sharp(await grey.withIccProfile(name).png().toBuffer()).metadata();
  return icc as Buffer;
}

describe('readIccProfile', () => {
  it('knows sRGB by its numbers, whatever its name', () => {
    const profile = buildIccProfile({ name: 'house camera 7', colorants: SRGB_D50, curve: SRGB_CURVE });
    expect(readIccProfile(profile)).toEqual({ name: 'house camera 7', isSrgb: true });
  });

  it('tells published version 4 profiles apart', async () => {
    expect(await embedded('srgb').then(readIccProfile)).toMatchObject({
      name: expect.stringMatching(/sRGB/i),
      isSrgb: true,
    });
    expect(await embedded('p3').then(readIccProfile)).toMatchObject({
      name: expect.stringMatching(/P3/i),
      isSrgb: false,
    });
  });

  it.each([
    ['other primaries', { name: 'sRGB', colorants: OPRGB_D50, curve: SRGB_CURVE }],
    ['a power curve of 2.2', { name: 'sRGB', colorants: SRGB_D50, curve: 563 / 256 }],
    ['linear light', { name: 'sRGB', colorants: SRGB_D50, curve: [0, 1] }],
    ['grey with a power curve', { name: 'sRGB', colorants: [], curve: 1.8 }],
  ])('is not misled by the name: %s', (_, colours) => {
    expect(readIccProfile(buildIccProfile(colours))).toEqual({ name: 'sRGB', isSrgb: false });
  });

  it('knows grey with the sRGB curve', () => {
    expect(readIccProfile(buildIccProfile({ name: 'grey', colorants: [], curve: SRGB_CURVE })).isSrgb).toBe(true);
  });

  it('takes a damaged profile for another one and does not throw', () => {
    const whole = buildIccProfile({ name: 'cut', colorants: SRGB_D50, curve: SRGB_CURVE });
    for (let length = 0; length < whole.length - 3; length += 7) {
      expect(readIccProfile(whole.subarray(0, length)).isSrgb).toBe(false);
    }
  });
});
