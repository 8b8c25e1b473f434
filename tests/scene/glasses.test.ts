import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/kernel/point.ts';
import { photoFromFilm } from '../../src/scene/picture-path.ts';
import { framePicture, placeCamera } from '../../src/scene/place-camera.ts';
import { MERIDIAN_SCENE, plainShot, type Scene, type Shot } from '../../src/scene/scene.ts';

const placed = placeCamera({ width_px: 3000, height_px: 2000, distance_ih: 3.4, azimuth_deg: 15, elevation_deg: -3 });
const bare: Shot = plainShot('bare', framePicture(MERIDIAN_SCENE.projector, 2.35, placed, 0.8));
const PLACES: readonly Point[] = [-1.175, 0, 0.7].flatMap((x) => [-0.5, 0.1, 0.5].map((y) => ({ x, y })));

describe('a lens of the glasses', () => {
  const glasses = {
    left: { shift_px: { x: 3, y: -2 }, turn_deg: 0.05 },
    right: { shift_px: { x: 0, y: 0 }, wave: { seed: 4, sigma_px: 0.2, length_px: 400 } },
  };
  const scene: Scene = { ...MERIDIAN_SCENE, glasses };
  it('shifts the photograph through it and turns it counter-clockwise about its middle; none without it', () => {
    const through = photoFromFilm(scene, { ...bare, lens: 'left' }, 'left');
    const without = photoFromFilm(scene, bare, 'left');
    const [cx, cy] = [(3000 - 1) / 2, (2000 - 1) / 2];
    for (const c of PLACES) {
      const [a, b] = [without(c), through(c)];
      const turn = (0.05 * Math.PI) / 180;
      // Counter-clockwise as seen, y down: what is right of the middle rises.
      expect(b.x - a.x).toBeCloseTo(3 + turn * (a.y - cy), 3);
      expect(b.y - a.y).toBeCloseTo(-2 - turn * (a.x - cx), 3);
      expect(a).toEqual(photoFromFilm(MERIDIAN_SCENE, bare, 'left')(c));
    }
  });
  it('with a wavy surface bends it by as much as it was told, alike for both pictures', () => {
    const through = photoFromFilm(scene, { ...bare, lens: 'right' }, 'right');
    const without = photoFromFilm(scene, bare, 'right');
    let sum = 0;
    let count = 0;
    for (let x = -1.175; x <= 1.175; x += 0.02) {
      for (let y = -0.5; y <= 0.5; y += 0.05) {
        const [a, b] = [without({ x, y }), through({ x, y })];
        sum += (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
        count += 2;
      }
    }
    expect(Math.sqrt(sum / count)).toBeGreaterThan(0.1);
    expect(Math.sqrt(sum / count)).toBeLessThan(0.3);
  });
});
