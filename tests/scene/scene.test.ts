import { describe, expect, it } from 'vitest';
import { placeCamera } from '../../src/scene/place-camera.ts';
import { randomScene } from '../../src/scene/random-scene.ts';
import { shotTruth } from '../../src/scene/render-shot.ts';
import { MERIDIAN, MERIDIAN_SCENE, plainShot, shotSeed } from '../../src/scene/scene.ts';

describe('the Meridian', () => {
  it('is 10.4 m wide and 27 m from the port, said in picture heights', () => {
    const { aspect, pictureHeight_m, projector } = MERIDIAN_SCENE;
    expect(aspect * pictureHeight_m).toBeCloseTo(10.4, 12);
    expect(projector.throw_ih * pictureHeight_m).toBeCloseTo(MERIDIAN.throw_m, 12);
  });
  it('is aligned, and a plain photograph of it is neither clipped nor dark', () => {
    const place = { width_px: 900, height_px: 600, distance_ih: 3, azimuth_deg: 0, elevation_deg: 0 };
    const { photoFromChart, strength } = shotTruth(MERIDIAN_SCENE, plainShot('left', placeCamera(place)));
    expect(photoFromChart.left).toEqual(photoFromChart.right);
    expect(strength.left).toBeGreaterThan(0.5);
    expect(strength.left).toBeLessThan(1);
    expect(strength.right / strength.left).toBeLessThan(0.005);
  });
});

it('no two photographs of sets with different seeds have the same noise', () => {
  const seeds = [1, 2, 3, 4, 5].flatMap((seed) => {
    const set = randomScene(seed, 'judge');
    return [shotSeed(set, 'left'), shotSeed(set, 'right')];
  });
  expect(new Set(seeds).size).toBe(seeds.length);
});
