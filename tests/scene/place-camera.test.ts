import { describe, expect, it } from 'vitest';
import { transfer } from '../../src/kernel/homography.ts';
import { distortPoint, photoFromScreen } from '../../src/scene/camera.ts';
import { boundsOf, exposureForPeak, framePicture, pictureCorners, placeCamera } from '../../src/scene/place-camera.ts';
import { renderShot } from '../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE, plainShot } from '../../src/scene/scene.ts';

const { projector, aspect } = MERIDIAN_SCENE;
const placed = placeCamera({ width_px: 900, height_px: 600, distance_ih: 3, azimuth_deg: 20, elevation_deg: -5 });

describe('placeCamera', () => {
  it('stands at the distance, to the right and below for a positive azimuth and a negative elevation', () => {
    const { x, y, z } = placed.position_ih;
    expect(Math.hypot(x, y, z)).toBeCloseTo(3, 12);
    expect(x).toBeGreaterThan(0);
    expect(y).toBeLessThan(0);
    expect(Math.atan2(x, z)).toBeCloseTo((20 * Math.PI) / 180, 12);
  });
});

describe('framePicture', () => {
  it('gives the pictures their share of the width and their place, with distortion and roll', () => {
    const bent = { ...placed, roll_deg: 2, distortion: { ...placed.distortion, k1: -0.04 } };
    const camera = framePicture(projector, aspect, bent, 0.8, { x: 0.02, y: -0.05 });
    const { left, right, top, bottom } = boundsOf(pictureCorners(projector, aspect, camera));
    expect((right - left) / 900).toBeCloseTo(0.8, 4);
    expect(((left + right) / 2 - 449.5) / 900).toBeCloseTo(0.02, 3);
    expect(((top + bottom) / 2 - 299.5) / 600).toBeCloseTo(-0.05, 3);
    expect(camera.position_ih).toEqual(placed.position_ih);
  });
  it('keeps a picture that is too tall inside the photo', () => {
    const camera = framePicture(projector, aspect, { ...placed, height_px: 300 }, 0.9);
    const { top, bottom } = boundsOf(pictureCorners(projector, aspect, camera));
    expect((bottom - top) / 300).toBeCloseTo(0.9, 4);
  });
});

describe('pictureCorners', () => {
  it('are the corners of both eyes’ pictures in the photo', () => {
    const camera = framePicture(projector, aspect, placed, 0.8);
    const corners = pictureCorners(projector, aspect, camera);
    expect(corners).toHaveLength(8);
    // With no misalignment the two eyes' corners are the same.
    expect(corners.slice(0, 4)).toEqual(corners.slice(4));
    expect(distortPoint(camera, transfer(photoFromScreen(camera), { x: 0, y: 0 })).x).toBeGreaterThan(corners[0].x);
  });
});

describe('exposureForPeak', () => {
  it('brings the brightest place of the picture to the light asked for', () => {
    const shot = plainShot('left', framePicture(projector, aspect, placed, 0.8));
    const exposure = exposureForPeak(MERIDIAN_SCENE, shot, 0.7);
    const { noiseFree } = renderShot(MERIDIAN_SCENE, { ...shot, exposure }, 1);
    const brightest = noiseFree.data.reduce((a, b) => Math.max(a, b), 0);
    // The brightest place may be black in the target.
    expect(brightest).toBeLessThan(0.7 * 1.005);
    expect(brightest).toBeGreaterThan(0.6);
  });
});
