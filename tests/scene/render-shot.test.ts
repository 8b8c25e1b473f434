import { describe, expect, it } from 'vitest';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';
import { otherEye } from '../../src/kernel/eye.ts';
import { transfer } from '../../src/kernel/homography.ts';
import { vignetting } from '../../src/scene/light.ts';
import { framePicture, placeCamera } from '../../src/scene/place-camera.ts';
import { renderFlatField, renderLayers, renderShot, shotTruth } from '../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE, plainShot, type Scene } from '../../src/scene/scene.ts';
import { layoutChart } from '../../src/target/chart.ts';

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

  it('adds a stray copy: the picture again, weaker and displaced, through the polarizer that its light passed', () => {
    const strength = 0.02;
    const flat: Scene = { ...leaky, surface: { mattPart: 1, halfGain_deg: 14 }, roomLight: 0, blackLevel: 0 };
    const evenly = { ...shot, vignetting: 0 };
    const stray = { eye: 'left', offset_ih: { x: 0.3, y: 0.4 }, strength } as const;
    const alone = renderLayers(flat, evenly);
    const own = renderLayers({ ...flat, strays: [stray] }, evenly);
    const other = renderLayers({ ...flat, strays: [{ ...stray, polarizedAs: 'right' }] }, evenly);
    const sum = (data: Float32Array) => data.reduce((total, light) => total + light, 0);
    // Cut off at the photograph's top, so a part of the picture; its middle row lies 0.4 of the picture higher.
    const seen = sum(own.background.data) / (strength * alone.truth.strength.left * sum(alone.left.data));
    expect(seen).toBeGreaterThan(0.4);
    expect(seen).toBeLessThan(1.01);
    const weaker = sum(other.background.data) / sum(own.background.data);
    expect(weaker).toBeCloseTo(alone.truth.strength.right / 0.9 / alone.truth.strength.left, 6);
    // The upper bright quadrant of a left-eye mark and the dark one beside it, of the copy.
    const mark = layoutChart(aspect).marks.find((m) => m.eye === 'left' && m.kind === 'inner' && m.y < -0.1)!;
    const lightAt = (axis_deg: number) => {
      const [x, y] = [Math.cos((axis_deg * Math.PI) / 180), Math.sin((axis_deg * Math.PI) / 180)];
      const r = 0.35 * mark.radius;
      const p = transfer(alone.truth.photoFromChart.left, { x: mark.x + 0.3 + r * x, y: mark.y + 0.4 + r * y });
      return own.background.data[Math.round(p.y) * 600 + Math.round(p.x)]! / (strength * alone.truth.strength.left);
    };
    expect(lightAt(77)).toBeGreaterThan(0.75);
    expect(lightAt(-13)).toBeLessThan(0.25);
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

const plainCamera = placeCamera({ width_px: 300, height_px: 200, distance_ih: 3, azimuth_deg: 0, elevation_deg: 0 });
const flatShot = { ...plainShot('bare', plainCamera), vignetting: 1 };

/** Mean green light of a 20 x 20 square whose middle is (x, y). */
function lightAt(pixels: ReturnType<typeof renderFlatField>, x: number, y: number): number {
  let sum = 0;
  for (let dy = -10; dy < 10; dy++) {
    for (let dx = -10; dx < 10; dx++) sum += linearFromSrgb(pixels.data[((y + dy) * 300 + x + dx) * 3 + 1] / 255);
  }
  return sum / 400;
}

describe('renderFlatField', () => {
  it('shows what the lens lets through and nothing else', () => {
    const pixels = renderFlatField(flatShot, { light: 0.5 }, 1);
    expect([pixels.width, pixels.height, pixels.channels]).toEqual([300, 200, 3]);
    expect(lightAt(pixels, 150, 100)).toBeCloseTo(0.5, 2);
    expect(lightAt(pixels, 15, 15) / 0.5).toBeCloseTo(vignetting(plainCamera, 1, { x: 14.5, y: 14.5 }), 2);
  });
  it('is brighter to the right by its slope', () => {
    const pixels = renderFlatField({ ...flatShot, vignetting: 0 }, { light: 0.5, slope: 0.1 }, 1);
    expect(lightAt(pixels, 285, 100) / lightAt(pixels, 15, 100)).toBeCloseTo(1.045 / 0.955, 2);
  });
  it('same seed, same pixels; another one, other noise', () => {
    const [a, b, c] = [1, 1, 2].map((seed) => renderFlatField(flatShot, { light: 0.5 }, seed).data);
    expect(a).toEqual(b);
    expect(a).not.toEqual(c);
  });
});
