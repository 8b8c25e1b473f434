import { describe, expect, it } from 'vitest';
import { otherEye } from '../../src/kernel/eye.ts';
import { framePicture, placeCamera } from '../../src/scene/place-camera.ts';
import { renderLayers, renderShot, shotTruth } from '../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE, plainShot, type Scene } from '../../src/scene/scene.ts';

const { projector, aspect } = MERIDIAN_SCENE;
const placed = placeCamera({ width_px: 600, height_px: 300, distance_ih: 3, azimuth_deg: 4, elevation_deg: -2 });
const camera = framePicture(projector, aspect, placed, 0.85);
const leaky: Scene = {
  ...MERIDIAN_SCENE,
  polarization: { ...MERIDIAN_SCENE.polarization, lensError_deg: { left: 8, right: 3 } },
  brightness: { left: 1, right: 0.9 },
};
const shot = plainShot('left', camera);

describe('renderShot', () => {
  it('is the sum of its layers at their strengths', () => {
    const { left, right, background, truth } = renderLayers(leaky, shot);
    const { noiseFree } = renderShot(leaky, shot, 1);
    for (let i = 0; i < noiseFree.data.length; i += 37) {
      const sum = background.data[i] + truth.strength.left * left.data[i] + truth.strength.right * right.data[i];
      expect(noiseFree.data[i]).toBeCloseTo(sum, 6);
    }
  });

  it('same scene, shot and seed: same bytes; another seed: other noise on the same light', () => {
    const [a, b, c] = [3, 3, 4].map((seed) => renderShot(leaky, shot, seed));
    expect(a.pixels.data).toEqual(b.pixels.data);
    expect(a.pixels.data).not.toEqual(c.pixels.data);
    expect(a.noiseFree.data).toEqual(c.noiseFree.data);
  });

  it('is upright colour pixels of the camera’s size', () => {
    const { pixels } = renderShot(leaky, shot, 1);
    expect([pixels.width, pixels.height, pixels.channels]).toEqual([600, 300, 3]);
    expect(pixels.data).toHaveLength(600 * 300 * 3);
  });

  it('without a lens in front shows both pictures at full strength', () => {
    const { strength } = shotTruth(leaky, { ...shot, lens: 'bare' });
    expect(strength.right / strength.left).toBeCloseTo(0.9, 12);
  });

  it.each(['left', 'right'] as const)('through the %s lens its own picture is the stronger one', (lens) => {
    const { strength } = shotTruth(leaky, { ...shot, lens });
    expect(strength[lens]).toBeGreaterThan(20 * strength[otherEye(lens)]);
  });

  it('heads take the light of pictures and house', () => {
    const dark = renderShot(leaky, { ...shot, heads: [{ centre: { x: 0.5, y: 0.6 }, width: 0.2 }] }, 1).noiseFree;
    const clear = renderShot(leaky, shot, 1).noiseFree;
    const at = (x: number, y: number) => y * 600 + x;
    expect(clear.data[at(300, 180)]).toBeGreaterThan(1e-4);
    expect(dark.data[at(300, 180)]).toBe(0);
    expect(dark.data[at(100, 150)]).toBe(clear.data[at(100, 150)]);
  });

  it('weave moves both pictures by its part of the picture height', () => {
    const still = shotTruth(leaky, shot).photoFromChart;
    const moved = shotTruth(leaky, { ...shot, weave_ih: { x: 0, y: 0.01 } }).photoFromChart;
    const scale = (0.85 * 600) / aspect;
    for (const eye of ['left', 'right'] as const) {
      expect((still[eye][5] - moved[eye][5]) / scale).toBeCloseTo(0.01, 3);
    }
  });
});
