import { describe, expect, it } from 'vitest';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';
import { vignetting } from '../../src/scene/light.ts';
import { placeCamera } from '../../src/scene/place-camera.ts';
import { renderFlatField } from '../../src/scene/render-flat-field.ts';
import { plainShot } from '../../src/scene/scene.ts';

const camera = placeCamera({ width_px: 300, height_px: 200, distance_ih: 3, azimuth_deg: 0, elevation_deg: 0 });
const shot = { ...plainShot('bare', camera), vignetting: 1 };

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
    const pixels = renderFlatField(shot, { light: 0.5 }, 1);
    expect([pixels.width, pixels.height, pixels.channels]).toEqual([300, 200, 3]);
    expect(lightAt(pixels, 150, 100)).toBeCloseTo(0.5, 2);
    expect(lightAt(pixels, 15, 15) / 0.5).toBeCloseTo(vignetting(camera, 1, { x: 14.5, y: 14.5 }), 2);
  });
  it('is brighter to the right by its slope', () => {
    const pixels = renderFlatField({ ...shot, vignetting: 0 }, { light: 0.5, slope: 0.1 }, 1);
    expect(lightAt(pixels, 285, 100) / lightAt(pixels, 15, 100)).toBeCloseTo(1.045 / 0.955, 2);
  });
  it('same seed, same pixels; another one, other noise', () => {
    const [a, b, c] = [1, 1, 2].map((seed) => renderFlatField(shot, { light: 0.5 }, seed).data);
    expect(a).toEqual(b);
    expect(a).not.toEqual(c);
  });
});
