/** Evenness on rendered photographs of a metallic screen, against the light that it truly sent to the camera's seat. */
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { EvennessRequest, LightSource } from '../../../src/application/light/lit-pictures.ts';
import {
  type MeasuredEvenness,
  measureEvenness,
  type PictureEvenness,
} from '../../../src/application/light/measure-evenness.ts';
import { EYES, type Eye } from '../../../src/kernel/eye.ts';
import { placePoint } from '../../../src/light/evenness.ts';
import { LIGHT_PLACES } from '../../../src/record/light-codes.ts';
import { hotSpot } from '../../../src/scene/light.ts';
import { projectorPosition } from '../../../src/scene/projector.ts';
import { renderFlatField } from '../../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE, type Scene, type Shot } from '../../../src/scene/scene.ts';
import { Darkroom, shotOf, trueRatio } from './photograph-hall.ts';

const ASPECT = MERIDIAN_SCENE.aspect;
const scene: Scene = { ...MERIDIAN_SCENE, brightness: { left: 1, right: 0.85 } };
const seat = { azimuth_deg: 6, vignetting: 0.8 };

type File = { readonly path: string; readonly name: string };
let darkroom: Darkroom;
let left: Shot;
let pictures: LightSource[];
let flat: File;
let turned: File;

beforeAll(async () => {
  darkroom = new Darkroom();
  left = shotOf(scene, 'left', seat);
  // The right lens of these glasses is a little yellow.
  const right: Shot = { ...left, lens: 'right', sensor: { ...left.sensor, tint: [1, 1, 0.9] } };
  pictures = [
    { ...(await darkroom.photograph('left.jpg', left, 1, scene)), role: 'left-lens' },
    { ...(await darkroom.photograph('right.jpg', right, 2, scene)), role: 'right-lens' },
  ];
  flat = await darkroom.develop('flat.jpg', renderFlatField(left, { light: 0.5, slope: 0.03 }, 3));
  const aside = shotOf(scene, 'left', { ...seat, offset: { x: 0.09, y: 0.2 } });
  const panned: Shot = { ...left, camera: { ...left.camera, lookAt_ih: aside.camera.lookAt_ih } };
  turned = await darkroom.photograph('panned.jpg', panned, 4, scene);
});
afterAll(() => darkroom.close());

const measuring = new Map<string, ReturnType<typeof measureEvenness>>();
/** Each request is measured once for all tests. */
async function measured(given: Omit<EvennessRequest, 'subject'>): Promise<MeasuredEvenness> {
  const request: EvennessRequest = { subject: 'target', ...given };
  const key = JSON.stringify(request);
  const known = measuring.get(key) ?? measureEvenness(request);
  measuring.set(key, known);
  const result = await known;
  if (result.outcome === 'refused') throw new Error(JSON.stringify(result));
  return result;
}

function ofEye({ pictures: found }: MeasuredEvenness, eye: Eye): PictureEvenness | undefined {
  return found.find(({ picture }) => picture === `${eye}-eye`);
}

/** Largest error of any place of any eye: as a part of the truth, and in its own standard uncertainty. */
function worst(result: MeasuredEvenness, shot: Shot) {
  const errors = EYES.flatMap((eye) =>
    LIGHT_PLACES.flatMap((place) => {
      const found = ofEye(result, eye)?.evenness.ofCentre[place];
      if (!found || place === 'centre') return [];
      const off = found.value - trueRatio(scene, shot, eye, placePoint(place, ASPECT));
      return [{ relative: Math.abs(off / found.value), deviations: Math.abs(off) / found.u }];
    }),
  );
  return {
    count: errors.length,
    relative: Math.max(...errors.map(({ relative }) => relative)),
    deviations: Math.max(...errors.map(({ deviations }) => deviations)),
  };
}

describe('measureEvenness', () => {
  it('with a flat field every side and corner is within 2 % of the truth, and within its uncertainty', async () => {
    const result = await measured({ pictures, flat });
    const { count, relative, deviations } = worst(result, left);
    expect(count).toBe(16);
    expect(relative).toBeLessThan(0.02);
    expect(deviations).toBeLessThan(3);
    expect(result.vignetting.method).toBe('flat-field');
  });

  it('with the camera panned between two photographs too', async () => {
    const result = await measured({ pictures, turned });
    const { relative, deviations } = worst(result, left);
    expect(relative).toBeLessThan(0.02);
    expect(deviations).toBeLessThan(3);
    expect(result.vignetting.method).toBe('turned-camera');
  });

  it('with neither the stated uncertainty holds, and is larger', async () => {
    const [assumed, known] = [await measured({ pictures }), await measured({ pictures, flat })];
    expect(worst(assumed, left).deviations).toBeLessThan(2);
    const uOf = (of: MeasuredEvenness) => ofEye(of, 'left')!.evenness.ofCentre.left.u;
    expect(uOf(assumed)).toBeGreaterThan(4 * uOf(known));
    expect(assumed.notes).toContain('vignetting-assumed');
  });

  it.each([0.3, 1])('that uncertainty holds for a lens with %d of cos^4', async (vignetting) => {
    const shot = shotOf(scene, 'left', { azimuth_deg: -8, elevation_deg: 4, distance_ih: 2.8, vignetting });
    const file = await darkroom.photograph(`lens-${vignetting}.jpg`, shot, 9, scene);
    const { count, deviations } = worst(await measured({ pictures: [{ ...file, role: 'left-lens' }] }), shot);
    expect(count).toBe(8);
    expect(deviations).toBeLessThan(2);
  });

  it('finds the hot spot where the screen as a mirror shows the port', async () => {
    const result = await measured({ pictures, flat });
    const truth = hotSpot(projectorPosition(scene.projector), left.camera.position_ih);
    for (const eye of EYES) {
      const { at, significance, direction_deg } = ofEye(result, eye)!.evenness.hotSpot;
      expect(Math.hypot(at.x - truth.x, at.y - truth.y)).toBeLessThan(0.03);
      expect(Math.abs(direction_deg - (Math.atan2(truth.y, truth.x) * 180) / Math.PI)).toBeLessThan(5);
      expect(significance).toBeGreaterThan(4);
    }
  });

  it('compares the eyes in level and colour, and says that the exposures are not on record', async () => {
    const { balance, notes } = await measured({ pictures, flat });
    expect(notes).toContain('exposure-unknown');
    const luma = 0.2126 + 0.7152 + 0.0722 * 0.9;
    expect(Math.abs(balance!.rightOverLeft.value / (0.85 * luma) - 1)).toBeLessThan(0.01);
    expect(balance!.rightOverLeft.u).toBeGreaterThan(0.008);
    expect(balance!.colour!.red.value).toBeCloseTo(1, 2);
    expect(balance!.colour!.blue.value).toBeCloseTo(0.9, 2);
  });

  it('compares exposures where the camera wrote them down', async () => {
    const noted = async (name: string, index: number, exposure: string): Promise<LightSource> => {
      const path = join(darkroom.folder, name);
      await sharp(pictures[index].path)
        .withExif({ IFD2: { ExposureTime: exposure, FNumber: '8/1', ISOSpeedRatings: '400' } })
        .jpeg({ quality: 94 })
        .toFile(path);
      return { path, name, role: index === 0 ? 'left-lens' : 'right-lens' };
    };
    const [quarter, same, half] = [
      await noted('a.jpg', 0, '1/4'),
      await noted('b.jpg', 1, '1/4'),
      await noted('c.jpg', 1, '1/2'),
    ];
    const alike = await measured({ pictures: [quarter, same], flat });
    expect(alike.notes).not.toContain('exposure-unknown');
    expect(alike.balance).not.toBeNull();
    const different = await measured({ pictures: [quarter, half], flat });
    expect(different.notes).toContain('exposure-differs');
    expect(different.balance).toBeNull();
  });

  it('one photograph gives its own eye, and no balance', async () => {
    const { pictures: found, balance } = await measured({ pictures: [pictures[1]], flat });
    expect(found.map(({ picture }) => picture)).toEqual(['right-eye']);
    expect(balance).toBeNull();
  });

  it('one photograph without glasses gives both, and nothing of the exposure in between', async () => {
    const shot = shotOf(scene, 'bare', seat);
    const bare: LightSource = { ...(await darkroom.photograph('bare.jpg', shot, 11, scene)), role: 'bare' };
    const result = await measured({ pictures: [bare], flat });
    expect(result.pictures.map(({ picture, role }) => [picture, role])).toEqual([
      ['left-eye', 'bare'],
      ['right-eye', 'bare'],
    ]);
    expect(worst(result, shot).relative).toBeLessThan(0.02);
    const { value, u } = result.balance!.rightOverLeft;
    expect(Math.abs(value - 0.85)).toBeLessThan(3 * u);
    expect(u).toBeLessThan(0.005);
  });

  it('one reading of a meter gives the luminance all over', async () => {
    const at = placePoint('centre', ASPECT);
    const meter = { of: 'left-eye', at, luminance_cd_m2: { value: 14, u: 0.5 } } as const;
    const result = await measured({ pictures, flat, meter });
    const { luminance } = ofEye(result, 'left')!;
    expect(luminance!.centre.cd_m2.value).toBeCloseTo(14, 9);
    const truth = 14 * trueRatio(scene, left, 'left', placePoint('left', ASPECT));
    expect(Math.abs(luminance!.left.cd_m2.value / truth - 1)).toBeLessThan(0.02);
    expect(luminance!.left.fL.value).toBeCloseTo(luminance!.left.cd_m2.value / 3.4262591, 6);
    // The other eye's picture follows by what was measured between the two.
    const other = ofEye(result, 'right')!.luminance!;
    const ratio = result.balance!.places.centre;
    expect(other.centre.cd_m2.value).toBeCloseTo(14 * ratio.value, 9);
    expect(other.centre.cd_m2.u).toBeCloseTo(Math.hypot(0.5 * ratio.value, 14 * ratio.u), 9);
  });

  it('a reading of a picture that is not there is said not to count', async () => {
    const meter = { of: 'left-eye', at: { x: 0, y: 0 }, luminance_cd_m2: { value: 14, u: 0.5 } } as const;
    const result = await measured({ pictures: [pictures[1]], flat, meter });
    expect(result.notes).toContain('meter-unused');
    expect(ofEye(result, 'right')!.luminance).toBeNull();
  });

  it('the tone curve is straight within what the grey steps can tell', async () => {
    const result = await measured({ pictures, flat });
    for (const eye of EYES) {
      const { value, u } = ofEye(result, eye)!.tone!;
      expect(Math.abs(value - 1)).toBeLessThan(2 * u);
    }
    expect(result.notes).not.toContain('tone-curve-bent');
  });
});

describe('measureEvenness refuses', () => {
  it('a photograph without the target', async () => {
    expect(await measureEvenness({ subject: 'target', pictures: [{ ...flat, role: 'left-lens' }] })).toMatchObject({
      outcome: 'refused',
      role: 'left-lens',
      file: 'flat.jpg',
    });
  });

  it('the same photograph, or the same eye, through both lenses', async () => {
    const again = (index: number): LightSource => ({ ...pictures[index], role: 'right-lens' });
    const refusalOf = async (second: LightSource) => {
      const result = await measureEvenness({ subject: 'target', pictures: [pictures[0], second] });
      return result.outcome === 'refused' ? result.refusal : undefined;
    };
    expect(await refusalOf(again(0))).toMatchObject({ code: 'same-photo-twice' });
    const same = await darkroom.photograph('same.jpg', left, 7, scene);
    expect(await refusalOf({ ...same, role: 'right-lens' })).toMatchObject({
      code: 'same-eye-twice',
      facts: { eye: 'left' },
    });
  });

  it('nothing at all is a mistake of the caller', async () => {
    await expect(measureEvenness({ subject: 'target', pictures: [] })).rejects.toThrow(RangeError);
  });
});
