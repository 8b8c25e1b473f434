import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { learnVignetting, type VignettingSources } from '../../../src/application/light/learn-vignetting.ts';
import { examineTarget, type TargetPhoto } from '../../../src/application/light/measure-target-light.ts';
import { imageCentre } from '../../../src/scene/camera.ts';
import { vignetting } from '../../../src/scene/light.ts';
import { renderFlatField } from '../../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE, type Shot } from '../../../src/scene/scene.ts';
import { layoutChart } from '../../../src/target/chart.ts';
import { Darkroom, shotOf } from './photograph-hall.ts';

const chart = layoutChart(MERIDIAN_SCENE.aspect);
let darkroom: Darkroom;
let shot: Shot;
let picture: TargetPhoto;

async function examined(source: { path: string; name: string }): Promise<TargetPhoto> {
  const result = await examineTarget(source, chart, 'left-lens');
  if (result.outcome === 'refused') throw new Error(JSON.stringify(result));
  return result;
}

beforeAll(async () => {
  darkroom = new Darkroom();
  shot = shotOf(MERIDIAN_SCENE, 'left', { vignetting: 0.9 });
  picture = await examined(await darkroom.photograph('picture.jpg', shot, 1));
});
afterAll(() => darkroom.close());

async function learned(sources: VignettingSources, from: TargetPhoto = picture) {
  const result = await learnVignetting(sources, from, (source, role) => examineTarget(source, chart, role));
  if (result.outcome === 'refused') throw new Error(JSON.stringify(result));
  return result.vignetting;
}

const develop = (name: string, light: number, of: Shot = shot) =>
  darkroom.develop(name, renderFlatField(of, { light }, 5));

/** ln of what the simulated lens passes at r half diagonals. */
function trueLog(r: number): number {
  const { width_px, height_px } = shot.camera;
  const centre = imageCentre(shot.camera);
  return Math.log(
    vignetting(shot.camera, shot.vignetting, { x: centre.x + (r * Math.hypot(width_px, height_px)) / 2, y: centre.y }),
  );
}

describe('learnVignetting', () => {
  it('from a flat field knows it to half a percent', async () => {
    const { logTransmittance, method } = await learned({ flat: await develop('flat.jpg', 0.5) });
    expect(method).toBe('flat-field');
    for (const r of [0.3, 0.6, 0.9]) expect(Math.abs(logTransmittance(r) - trueLog(r))).toBeLessThan(0.005);
  });

  it('from a panned camera knows it within its uncertainty', async () => {
    const aside = shotOf(MERIDIAN_SCENE, 'left', { offset: { x: 0.09, y: 0.2 } });
    const panned = { ...shot, camera: { ...shot.camera, lookAt_ih: aside.camera.lookAt_ih } };
    const { logTransmittance, method, spread } = await learned({
      turned: await darkroom.photograph('panned.jpg', panned, 2),
    });
    expect(method).toBe('turned-camera');
    for (const r of [0.4, 0.8]) {
      expect(Math.abs(logTransmittance(r) - trueLog(r))).toBeLessThan(3 * Math.hypot(...spread(r)));
      expect(Math.abs(logTransmittance(r) - trueLog(r))).toBeLessThan(0.01);
    }
  });

  it('otherwise assumes it, more certainly where the camera says its focal length', async () => {
    const path = join(darkroom.folder, 'noted.jpg');
    await sharp(picture.source.path)
      .withExif({ IFD2: { FocalLengthIn35mmFilm: '50' } })
      .jpeg({ quality: 94 })
      .toFile(path);
    const noted = await learned({}, await examined({ path, name: 'noted.jpg' }));
    // 35 mm film has half a diagonal of 21.63 mm: cos^4 of atan(21.63 / 50).
    expect(noted.logTransmittance(1)).toBeCloseTo(Math.log((1 + (21.633 / 50) ** 2) ** -2), 4);
    const blind = await learned({});
    expect(blind.method).toBe('assumed');
    expect(Math.hypot(...blind.spread(0.8))).toBeGreaterThan(Math.hypot(...noted.spread(0.8)));
  });
});

describe('learnVignetting refuses', () => {
  const refusalOf = async (sources: VignettingSources) => {
    const result = await learnVignetting(sources, picture, (source, role) => examineTarget(source, chart, role));
    return result.outcome === 'refused' ? [result.role, result.file, result.refusal.code] : result;
  };

  it('a flat field that is burnt out, dark, of another size, or not there', async () => {
    const small: Shot = { ...shot, camera: { ...shot.camera, width_px: 900, height_px: 600 } };
    const files = [
      await develop('burnt.jpg', 1.4),
      await develop('dark.jpg', 0.01),
      await develop('small.jpg', 0.5, small),
      { path: join(darkroom.folder, 'gone.jpg'), name: 'gone.jpg' },
    ];
    expect(await Promise.all(files.map((flat) => refusalOf({ flat })))).toEqual([
      ['flat-field', 'burnt.jpg', 'overexposed'],
      ['flat-field', 'dark.jpg', 'underexposed'],
      ['flat-field', 'small.jpg', 'different-size'],
      ['flat-field', 'gone.jpg', 'unreadable-photo'],
    ]);
  });

  it('a camera that was not panned', async () => {
    expect(await refusalOf({ turned: picture.source })).toEqual(['turned-camera', 'picture.jpg', 'camera-not-turned']);
  });
});
