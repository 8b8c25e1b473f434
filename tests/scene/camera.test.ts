import { describe, expect, it } from 'vitest';
import { transfer } from '../../src/kernel/homography.ts';
import {
  type Camera,
  cameraAxes,
  distortPoint,
  imageCentre,
  NO_DISTORTION,
  photoFromScreen,
  undistortPoint,
} from '../../src/scene/camera.ts';
import { placeCamera } from '../../src/scene/place-camera.ts';

const front: Camera = {
  width_px: 1001,
  height_px: 801,
  focal_px: 1000,
  position_ih: { x: 0, y: 0, z: 4 },
  lookAt_ih: { x: 0, y: 0 },
  roll_deg: 0,
  distortion: NO_DISTORTION,
};

describe('photoFromScreen', () => {
  it('shows the point looked at in the centre of the photo, pixel centres counted from 0', () => {
    expect(transfer(photoFromScreen(front), { x: 0, y: 0 })).toEqual({ x: 500, y: 400 });
    const aside = { ...front, position_ih: { x: 1, y: -0.5, z: 3 }, lookAt_ih: { x: 0.3, y: 0.1 } };
    const p = transfer(photoFromScreen(aside), { x: 0.3, y: 0.1 });
    expect(p.x).toBeCloseTo(500, 10);
    expect(p.y).toBeCloseTo(400, 10);
  });
  it('right on the screen is right in the photo, up on the screen is up in the photo', () => {
    const p = transfer(photoFromScreen(front), { x: 0.4, y: 0.2 });
    expect(p.x).toBeCloseTo(600, 10);
    expect(p.y).toBeCloseTo(350, 10);
  });
  it('a camera rolled counter-clockwise shows the house rolled clockwise', () => {
    const p = transfer(photoFromScreen({ ...front, roll_deg: 5 }), { x: 0.4, y: 0 });
    expect(p.y).toBeGreaterThan(400);
  });
  it('agrees with the pinhole projection of points in space', () => {
    const camera = { ...front, position_ih: { x: 1.2, y: 0.6, z: 3 }, lookAt_ih: { x: -0.1, y: 0.2 }, roll_deg: 3 };
    const { right, down, forward } = cameraAxes(camera);
    for (const s of [
      { x: 1, y: 0.5 },
      { x: -1.1, y: 0.2 },
      { x: 0.3, y: -0.45 },
    ]) {
      const v = { x: s.x - 1.2, y: s.y - 0.6, z: -3 };
      const along = (a: typeof v) => a.x * v.x + a.y * v.y + a.z * v.z;
      const p = transfer(photoFromScreen(camera), s);
      expect(p.x).toBeCloseTo(500 + (1000 * along(right)) / along(forward), 9);
      expect(p.y).toBeCloseTo(400 + (1000 * along(down)) / along(forward), 9);
    }
  });
});

describe('radial distortion', () => {
  const bent: Camera = {
    ...front,
    distortion: { k1: -0.04, k2: 0.01, reference: 'half-diagonal', centreOffset_px: { x: 3, y: -2 } },
  };
  it('moves a point at the reference radius by k1 + k2 of it', () => {
    const radius = Math.hypot(1001, 801) / 2;
    const p = distortPoint(bent, { x: 503 + radius, y: 398 });
    expect(p.x - 503).toBeCloseTo(radius * (1 - 0.04 + 0.01), 10);
    expect(p.y).toBeCloseTo(398, 12);
  });
  it.each([-0.12, -0.04, 0, 0.04, 0.2])('its inverse is exact over the photo, k1 = %d', (k1) => {
    const camera = { ...bent, distortion: { ...bent.distortion, k1 } };
    let worst = 0;
    for (let x = 0; x <= 1000; x += 100) {
      for (let y = 0; y <= 800; y += 100) {
        const back = distortPoint(camera, undistortPoint(camera, { x, y }));
        worst = Math.max(worst, Math.hypot(back.x - x, back.y - y));
      }
    }
    expect(worst).toBeLessThan(1e-10);
  });
  it('leaves its own centre where it is', () => {
    expect(undistortPoint(bent, { x: 503, y: 398 })).toEqual({ x: 503, y: 398 });
  });
  it('can be counted in focal lengths', () => {
    const camera = { ...front, distortion: { ...NO_DISTORTION, k1: 0.1, reference: 'focal-length' as const } };
    const centre = imageCentre(camera);
    const p = distortPoint(camera, { x: centre.x + 500, y: centre.y });
    expect(p.x - centre.x).toBeCloseTo(500 * (1 + 0.1 * 0.25), 10);
  });
  it('says so where no point of the straight photo comes to this place', () => {
    const camera = { ...front, distortion: { ...NO_DISTORTION, k1: -0.4 } };
    // r (1 - 0.4 r^2) grows to 0.61 at r = 0.91 and never reaches 0.8.
    const p = undistortPoint(camera, { x: 500 + 0.8 * (Math.hypot(1001, 801) / 2), y: 400 });
    expect(Number.isFinite(p.x)).toBe(false);
  });
});

describe('a lens with a moustache, or with elements off centre', () => {
  const plain = placeCamera({ width_px: 3000, height_px: 2000, distance_ih: 3, azimuth_deg: 0, elevation_deg: 0 });
  const radius = Math.hypot(3000, 2000) / 2;
  const [cx, cy] = [1499.5, 999.5];
  it('bends as Brown wrote: decentring in the direction of its axis three times as much as across', () => {
    const camera = { ...plain, distortion: { ...plain.distortion, decentring: [0, 0.001] as const } };
    const right = distortPoint(camera, { x: cx + 900, y: cy });
    expect(right.x - cx - 900).toBeCloseTo((3 * 0.001 * 900 ** 2) / radius, 9);
    const above = distortPoint(camera, { x: cx, y: cy - 900 });
    expect(above.x - cx).toBeCloseTo((0.001 * 900 ** 2) / radius, 9);
    expect(above.y).toBeCloseTo(cy - 900, 9);
  });
  it('a moustache is barrel within and pincushion without', () => {
    const camera = { ...plain, distortion: { ...plain.distortion, k1: -0.03, k2: 0.01, k3: 0.05 } };
    const moved = (r: number) => distortPoint(camera, { x: cx + r * radius, y: cy }).x - cx - r * radius;
    expect(moved(0.4)).toBeLessThan(0);
    expect(moved(1)).toBeGreaterThan(0);
  });
  it('is undone to rounding', () => {
    const distortion = { ...plain.distortion, k1: -0.03, k2: 0.01, k3: 0.02, decentring: [0.0008, -0.0005] as const };
    const camera = { ...plain, distortion };
    for (const p of [
      { x: 0, y: 0 },
      { x: 2999, y: 12 },
      { x: 1700, y: 1500 },
    ]) {
      const back = distortPoint(camera, undistortPoint(camera, p));
      expect(Math.hypot(back.x - p.x, back.y - p.y)).toBeLessThan(1e-9);
    }
  });
});
