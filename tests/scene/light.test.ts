import { describe, expect, it } from 'vitest';
import { NO_DISTORTION } from '../../src/scene/camera.ts';
import { hotSpot, screenGain, vignetting } from '../../src/scene/light.ts';

const surface = { mattPart: 0.2, halfGain_deg: 12 };
const port = { x: 0, y: 0.8, z: 6 };
const camera = { x: 1.1, y: -0.4, z: 3 };

describe('screenGain', () => {
  it('is brightest where the screen as a mirror shows the port to the camera', () => {
    const spot = hotSpot(port, camera);
    expect(screenGain(surface, port, camera, spot)).toBeCloseTo(1, 12);
    for (const [dx, dy] of [
      [0.05, 0],
      [-0.05, 0],
      [0, 0.05],
      [0, -0.05],
    ])
      expect(screenGain(surface, port, camera, { x: spot.x + dx, y: spot.y + dy })).toBeLessThan(1);
  });
  it('the hot spot follows the seat to the side, by less than the seat moves', () => {
    const moved = hotSpot(port, { ...camera, x: camera.x + 1 });
    expect(moved.x - hotSpot(port, camera).x).toBeCloseTo(6 / 9, 12);
  });
  it('has the half gain at the half-gain angle and the matt part far out', () => {
    // Port and camera in one place: the bisector is the direction itself.
    const at = { x: Math.tan((12 * Math.PI) / 180) * 4, y: 0 };
    const both = { x: 0, y: 0, z: 4 };
    expect(screenGain(surface, both, both, at)).toBeCloseTo(0.2 + 0.8 / 2, 12);
    expect(screenGain(surface, both, both, { x: 40, y: 0 })).toBeCloseTo(0.2, 12);
  });
});

describe('vignetting', () => {
  const lens = {
    width_px: 2001,
    height_px: 1001,
    focal_px: 1000,
    position_ih: camera,
    lookAt_ih: { x: 0, y: 0 },
    roll_deg: 0,
    distortion: NO_DISTORTION,
  };
  // cos^4 of the angle from the axis. COMPUTED
  it.each([
    [10, 0.9406],
    [15, 0.8705],
    [20, 0.7797],
    [30, 0.5625],
  ])('at %d degrees from the axis %d', (deg, expected) => {
    const x = 1000 + 1000 * Math.tan((deg * Math.PI) / 180);
    expect(vignetting(lens, 1, { x, y: 500 })).toBeCloseTo(expected, 4);
    expect(vignetting(lens, 0, { x, y: 500 })).toBe(1);
  });
});
