import { describe, expect, it } from 'vitest';
import { transfer } from '../../src/kernel/homography.ts';
import type { Point } from '../../src/kernel/point.ts';
import { distortPoint } from '../../src/scene/camera.ts';
import {
  isStraight,
  photoFromFilm,
  projectIntoPhoto,
  screenFromFilm,
  screenFromPhoto,
  screenNormal,
  straightPhotoFromChart,
} from '../../src/scene/picture-path.ts';
import { framePicture, placeCamera } from '../../src/scene/place-camera.ts';
import { MERIDIAN_SCENE, plainShot, type Scene, type Shot } from '../../src/scene/scene.ts';
import { NO_MISALIGNMENT } from '../../src/scene/terms.ts';
import { sceneMisalignmentTruth } from '../../src/scene/truth.ts';

const placed = placeCamera({ width_px: 3000, height_px: 2000, distance_ih: 3.4, azimuth_deg: 15, elevation_deg: -3 });
const camera = framePicture(
  MERIDIAN_SCENE.projector,
  2.35,
  { ...placed, distortion: { ...placed.distortion, k1: 0.02 } },
  0.8,
);
const bare: Shot = plainShot('bare', camera);
const off: Scene = {
  ...MERIDIAN_SCENE,
  projector: { ...MERIDIAN_SCENE.projector, misalignment: { ...NO_MISALIGNMENT, verticalOffset: 0.004, size: 0.003 } },
};
/** Bent so little that only the way of computing differs. */
const curvedByNothing: Scene = { ...off, screenRadius_ih: 1e9 };
const PLACES: readonly Point[] = [-1.175, -0.4, 0, 0.7, 1.175].flatMap((x) => [-0.5, 0.1, 0.5].map((y) => ({ x, y })));

describe('the way through planes', () => {
  it('is what homographies and the lens of the camera say', () => {
    expect(isStraight(off, bare)).toBe(true);
    expect(isStraight(curvedByNothing, bare)).toBe(false);
    for (const eye of ['left', 'right'] as const) {
      const straight = straightPhotoFromChart(off, bare, eye);
      const way = photoFromFilm(curvedByNothing, bare, eye);
      for (const c of PLACES) {
        const expected = distortPoint(camera, transfer(straight, c));
        const got = way(c);
        expect(Math.hypot(got.x - expected.x, got.y - expected.y)).toBeLessThan(1e-4);
      }
    }
  });
});

describe('a curved screen', () => {
  // Two picture widths.
  const curved: Scene = { ...off, screenRadius_ih: 2 * 2.35 };
  it('comes towards the audience at its sides by the height of the arc', () => {
    const radius = 4.7;
    const side = screenFromFilm(
      { ...curved, projector: { ...curved.projector, portRake_deg: 0 } },
      bare,
      'left',
    )({ x: 1.1, y: 0 });
    expect(side.z).toBeCloseTo(radius - Math.sqrt(radius ** 2 - side.x ** 2), 9);
    expect(side.z).toBeGreaterThan(0.1);
    // The beam is cut earlier, so the picture is narrower than on the plane.
    expect(side.x).toBeLessThan(1.1);
    const normal = screenNormal(curved, side);
    expect(Math.hypot(normal.x, normal.y, normal.z)).toBeCloseTo(1, 9);
    expect(normal.x).toBeLessThan(0);
  });
  it('is met by the camera where the picture falls on it', () => {
    const toScreen = screenFromFilm(curved, bare, 'right');
    const back = screenFromPhoto(curved, camera);
    const toPhoto = photoFromFilm(curved, bare, 'right');
    for (const c of PLACES) {
      const [there, again] = [toScreen(c), back(toPhoto(c))];
      expect(Math.hypot(there.x - again.x, there.y - again.y, there.z - again.z)).toBeLessThan(1e-9);
    }
  });
  it('bends the photograph by many pixels, and the misalignment by nothing: both pictures share it', () => {
    const toPhoto = projectIntoPhoto(camera);
    const plane = toPhoto(screenFromFilm(off, bare, 'left')({ x: 1.1, y: 0.4 }));
    const bent = toPhoto(screenFromFilm(curved, bare, 'left')({ x: 1.1, y: 0.4 }));
    expect(Math.hypot(plane.x - bent.x, plane.y - bent.y)).toBeGreaterThan(20);
    const [flat, round] = [sceneMisalignmentTruth(off, bare), sceneMisalignmentTruth(curved, bare)];
    expect(100 * Math.abs(flat.terms.verticalOffset - round.terms.verticalOffset)).toBeLessThan(2e-5);
    expect(100 * Math.abs(flat.terms.size - round.terms.size)).toBeLessThan(2e-5);
    expect(100 * round.remainder.value).toBeLessThan(5e-5);
  });
});

describe('a projection lens with pincushion', () => {
  const lens = { distortion_pct: { left: 0.1, right: 0.1 } };
  const aligned: Scene = { ...MERIDIAN_SCENE, projectionLens: lens };
  const half = 9.525 / (20.95 / 2.35) / 2;
  const corner2 = (2.35 / 2) ** 2 + (half + 0.5) ** 2;
  const truth = sceneMisalignmentTruth(aligned, bare);
  it('moves the upper picture up and the lower one down: d_y = 2 k a (x^2 + 3 y^2 + a^2), d_x = 4 k a x y', () => {
    const k = 0.001 / corner2;
    for (const { x, y } of PLACES) {
      const d = truth.field({ x, y });
      expect(d.y).toBeCloseTo(2 * k * half * (x * x + 3 * y * y + half * half), 5);
      expect(d.x).toBeCloseTo(4 * k * half * x * y, 5);
    }
    expect(truth.terms.verticalOffset).toBeGreaterThan(0);
    expect(truth.remainder.value).toBeGreaterThan(1e-4);
  });
  it('the other way round where the left-eye picture is above', () => {
    const film = { pictureHeight_mm: 20.95 / 2.35, centreToCentre_mm: 9.525, upperPortShows: 'left' as const };
    const other = sceneMisalignmentTruth({ ...aligned, film }, bare);
    expect(other.terms.verticalOffset).toBeCloseTo(-truth.terms.verticalOffset, 7);
  });
  it('does nothing to the difference where each picture has an axis through its own middle', () => {
    const axis_ih = { left: { x: 0, y: -half }, right: { x: 0, y: half } };
    const own = sceneMisalignmentTruth({ ...MERIDIAN_SCENE, projectionLens: { ...lens, axis_ih } }, bare);
    expect(Math.abs(own.worstVertical.value)).toBeLessThan(1e-12);
  });
});

describe('a mirror that is not plane', () => {
  it('moves its own picture by the slope of its figure', () => {
    const figure = [0.0004, 0, 0, -0.0003, 0, 0, 0.0001] as const;
    const { field } = sceneMisalignmentTruth({ ...MERIDIAN_SCENE, mirrors: { right: figure } }, bare);
    for (const { x, y } of PLACES) {
      const [u, v] = [(2 * x) / 2.35, 2 * y];
      expect(field({ x, y }).x).toBeCloseTo((2 / 2.35) * 3 * 0.0004 * u * u, 4);
      expect(field({ x, y }).y).toBeCloseTo(2 * (-0.0003 * 3 * v * v + 0.0001 * 4 * v ** 3), 4);
    }
  });
});
