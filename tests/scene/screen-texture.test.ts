import { describe, expect, it } from 'vitest';
import { photoFromFilm } from '../../src/scene/picture-path.ts';
import { placeCamera } from '../../src/scene/place-camera.ts';
import { MERIDIAN_SCENE, plainShot, type Scene } from '../../src/scene/scene.ts';
import { textureOfScreen } from '../../src/scene/screen-texture.ts';

const camera = {
  ...placeCamera({ width_px: 1200, height_px: 700, distance_ih: 3, azimuth_deg: 0, elevation_deg: 0 }),
  focal_px: 1300,
};
const shot = plainShot('bare', camera);
const whole = { left: 0, top: 0, width: 1200, height: 700 };
const withTexture = (texture: NonNullable<Scene['surface']['texture']>, more: Partial<Scene> = {}): Scene => ({
  ...MERIDIAN_SCENE,
  ...more,
  surface: { ...MERIDIAN_SCENE.surface, texture },
});

describe('textureOfScreen', () => {
  it('is none on a smooth screen', () => expect(textureOfScreen(MERIDIAN_SCENE, shot, whole)).toBeUndefined());

  it('has a dark seam in the middle between two widths of cloth, on a plane and on a curved screen', () => {
    for (const more of [{}, { screenRadius_ih: 5 }]) {
      const seams = { apart_ih: 0.6, width_ih: 0.004, depth: 0.3 };
      const scene = withTexture({ seams }, { ...more, projector: { ...MERIDIAN_SCENE.projector, portRake_deg: 0 } });
      const texture = textureOfScreen(scene, shot, whole)!;
      const at = photoFromFilm(scene, shot, 'left')({ x: 0.3, y: 0 });
      const around = Array.from({ length: 41 }, (_, k) => texture.data[350 * 1200 + Math.round(at.x) - 20 + k]!);
      expect(Math.min(...around)).toBeCloseTo(0.7, 1.5);
      expect(around.indexOf(Math.min(...around))).toBeGreaterThan(14);
      expect(around.indexOf(Math.min(...around))).toBeLessThan(26);
      expect(Math.max(...around)).toBeCloseTo(1, 2);
    }
  });

  it('holes take their part of the light, and leave less of a wave the finer they are', () => {
    const of = (pitch_ih: number) => {
      const { data } = textureOfScreen(withTexture({ holes: { part: 0.05, pitch_ih } }), shot, whole)!;
      const mean = data.reduce((a, b) => a + b, 0) / data.length;
      return { mean, spread: Math.sqrt(data.reduce((a, b) => a + (b - mean) ** 2, 0) / data.length) };
    };
    const pixel_ih = 3 / 1300;
    const [coarse, fine] = [of(4.3 * pixel_ih), of(1.23 * pixel_ih)];
    expect(coarse.mean).toBeCloseTo(0.95, 2);
    expect(fine.mean).toBeCloseTo(0.95, 2);
    // sinc(1 / 4.3) = 0.913 and sinc(1 / 1.23) = 0.217 of a wave of 0.05 in each direction.
    expect(coarse.spread / 0.05).toBeCloseTo(0.913, 1);
    expect(fine.spread / 0.05).toBeCloseTo(0.217, 1);
  });
});
