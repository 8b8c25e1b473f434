/** Light of an open gate: no film, so only the bright rectangle on the screen. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { EvennessRequest, LightSource } from '../../../src/application/light/lit-pictures.ts';
import { measureEvenness } from '../../../src/application/light/measure-evenness.ts';
import { sampleOpenGate } from '../../../src/application/light/measure-open-gate.ts';
import { placeInFrame } from '../../../src/application/shot/sample-light.ts';
import { transfer } from '../../../src/kernel/homography.ts';
import { placePoint } from '../../../src/light/evenness.ts';
import { LIGHT_PLACES } from '../../../src/record/light-codes.ts';
import { renderFlatField, renderShot } from '../../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE, type Scene, type Shot } from '../../../src/scene/scene.ts';
import { Darkroom, type HallCamera, shotOf, trueRatio } from './photograph-hall.ts';

const ASPECT = MERIDIAN_SCENE.aspect;
const scene: Scene = { ...MERIDIAN_SCENE, openGate: true, brightness: { left: 1, right: 0.8 } };
const seat: HallCamera = { azimuth_deg: 5, vignetting: 0.8 };

/** Without glasses the light of both pictures comes together. */
function gateShot(lens: Shot['lens'], camera: HallCamera = seat, of: Scene = scene): Shot {
  const shot = shotOf(of, lens, camera);
  return lens === 'bare' ? { ...shot, exposure: shot.exposure / (1 + of.brightness.right) } : shot;
}

let darkroom: Darkroom;
beforeAll(() => {
  darkroom = new Darkroom();
});
afterAll(() => darkroom.close());

async function photographed(role: LightSource['role'], shot: Shot, seed: number, of = scene): Promise<LightSource> {
  return { ...(await darkroom.photograph(`${role}-${seed}.jpg`, shot, seed, of)), role };
}

async function measured(request: Omit<EvennessRequest, 'subject'>) {
  const result = await measureEvenness({ subject: 'open-gate', ...request });
  if (result.outcome === 'refused') throw new Error(JSON.stringify(result));
  return result;
}

function worst(picture: { evenness: { ofCentre: Record<string, { value: number; u: number }> } }, shot: Shot) {
  const errors = LIGHT_PLACES.filter((place) => place !== 'centre').map((place) => {
    const { value, u } = picture.evenness.ofCentre[place];
    const off = Math.abs(value - trueRatio(scene, shot, 'left', placePoint(place, ASPECT)));
    return { relative: off / value, deviations: off / u };
  });
  return {
    relative: Math.max(...errors.map(({ relative }) => relative)),
    deviations: Math.max(...errors.map(({ deviations }) => deviations)),
  };
}

describe('the open gate', () => {
  it('with a flat field every side and corner is within 2 % of the truth, and within its uncertainty', async () => {
    const shot = gateShot('bare');
    const picture = await photographed('bare', shot, 1);
    const flat = await darkroom.develop('flat.jpg', renderFlatField(shot, { light: 0.5, slope: 0.03 }, 3));
    const result = await measured({ pictures: [picture], flat });
    expect(result.pictures.map(({ picture: name }) => name)).toEqual(['bare']);
    const { relative, deviations } = worst(result.pictures[0], shot);
    expect(relative).toBeLessThan(0.02);
    expect(deviations).toBeLessThan(2);
    // The camera’s tone curve is not known, and that is in the uncertainty.
    expect(result.notes).toContain('tone-curve-unknown');
    expect(result.balance).toBeNull();
  });

  it('with the camera panned between two photographs too', async () => {
    const shot = gateShot('bare', { ...seat, share: 0.7 });
    const aside = gateShot('bare', { ...seat, share: 0.7, offset: { x: 0.12, y: 0.2 } });
    const panned = { ...shot, camera: { ...shot.camera, lookAt_ih: aside.camera.lookAt_ih } };
    const [picture, turned] = [await photographed('bare', shot, 4), await photographed('turned-camera', panned, 5)];
    const result = await measured({ pictures: [picture], turned });
    expect(result.vignetting.method).toBe('turned-camera');
    const { relative, deviations } = worst(result.pictures[0], shot);
    expect(relative).toBeLessThan(0.02);
    expect(deviations).toBeLessThan(2);
  });

  it('through both lenses compares what the eyes get', async () => {
    const shot = gateShot('left');
    const pictures = [
      await photographed('left-lens', shot, 6),
      await photographed('right-lens', { ...shot, lens: 'right' }, 7),
    ];
    const { balance } = await measured({ pictures });
    expect(Math.abs(balance!.rightOverLeft.value / 0.8 - 1)).toBeLessThan(0.01);
    expect(Math.abs(balance!.colour!.red.value - 1)).toBeLessThan(0.01);
  });

  it('stray light goes into the uncertainty and is said', async () => {
    const lit: Scene = { ...scene, roomLight: 0.03 };
    const shot = gateShot('bare', seat, lit);
    const [dark, stray] = [
      await measured({ pictures: [await photographed('bare', gateShot('bare'), 8)] }),
      await measured({ pictures: [await photographed('bare', shot, 9, lit)] }),
    ];
    expect(dark.notes).not.toContain('stray-light');
    expect(stray.notes).toContain('stray-light');
    const uOf = (of: typeof dark) => of.pictures[0].evenness.ofCentre['top-left'].u;
    expect(uOf(stray)).toBeGreaterThan(uOf(dark));
    expect(worst(stray.pictures[0], shot).deviations).toBeLessThan(2);
  });
});

describe('sampleOpenGate', () => {
  const shot = gateShot('bare');

  it('puts each disc where its place of the screen is seen, to half a percent of the height', () => {
    const { pixels, truth } = renderShot(scene, shot, 1);
    const light = sampleOpenGate(pixels, ASPECT);
    if (light.outcome === 'refused') throw new Error(light.code);
    expect(light.samples).toHaveLength(17 * 9);
    const halfDiagonal_px = Math.hypot(pixels.width, pixels.height) / 2;
    const height_px = (0.8 * pixels.width) / ASPECT;
    for (const { at, place } of light.samples) {
      const seen = placeInFrame(pixels, transfer(truth.photoFromChart.left, at));
      expect(Math.hypot(place.x - seen.x, place.y - seen.y) * halfDiagonal_px).toBeLessThan(0.005 * height_px);
    }
    expect(light.strayPart).toBeLessThan(0.01);
  });

  it.each([
    ['burnt out', { ...shot, exposure: 4 * shot.exposure }, 'overexposed'],
    ['dark', { ...shot, exposure: 0.01 * shot.exposure }, 'underexposed'],
  ] as const)('refuses one that is %s', (_name, of, code) => {
    expect(sampleOpenGate(renderShot(scene, of, 1).pixels, ASPECT)).toMatchObject({ outcome: 'refused', code });
  });
});
