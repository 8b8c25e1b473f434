/** Following against the place that a crossing was drawn at. */
import { describe, expect, it } from 'vitest';
import { createLightSampler } from '../../src/imaging/luminance.ts';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { followCrossing } from '../../src/vision/follow-crossing.ts';
import { predictFrame } from '../../src/vision/crossing-pixels.ts';
import { addNoise, lightOfMarks, markAtOrigin, obliqueView, pixelsOf, squareView, viewOf } from './photograph-marks.ts';

const SIZE = 120;
const PLACE = { x: 60.3, y: 58.8 };
const MARK = markAtOrigin('left', 0x3ac5);
/** Radius of the crossing 16 px. */
const SCALE = 600;
const RADIUS_PX = 0.6 * MARK.radius * SCALE;

interface Look {
  readonly blur_px?: number;
  /** From where the crossing is to where it is expected. */
  readonly off?: Point;
  readonly turn_deg?: number;
  readonly contrast?: number;
  readonly seed?: number;
}

function follow({ blur_px = 1, off = { x: 0, y: 0 }, turn_deg = 0, contrast = 0.5, seed }: Look) {
  const photo = { width: SIZE, height: SIZE, blur_px, dark: 0.01, contrast, fineness: 3 };
  const drawn = lightOfMarks([MARK], { ...photo, photoFromChart: squareView(SCALE, PLACE, turn_deg) });
  const light = seed === undefined ? drawn : addNoise(drawn, { floor: 0.002, photon: 2e-4 }, seed);
  const expected = viewOf({ ...photo, photoFromChart: squareView(SCALE, { x: PLACE.x + off.x, y: PLACE.y + off.y }) });
  return followCrossing(createLightSampler(pixelsOf(light, SIZE, SIZE, 8)), predictFrame(expected, MARK));
}

const error = (look: Look) => {
  const found = follow(look);
  return found ? Math.hypot(found.centre.x - PLACE.x, found.centre.y - PLACE.y) : Number.NaN;
};

describe('followCrossing', () => {
  it.each([0.6, 1, 2, 3])('finds the centre at a blur of %d px', (blur_px) => {
    expect(error({ blur_px })).toBeLessThan(0.06);
  });

  it.each([0, 45, 90, 135, 180, 225, 270, 315])(
    'comes from three tenths of a radius away, towards %d degrees',
    (towards) => {
      const angle = (towards * Math.PI) / 180;
      const off = { x: 0.3 * RADIUS_PX * Math.cos(angle), y: 0.3 * RADIUS_PX * Math.sin(angle) };
      expect(error({ off })).toBeLessThan(0.08);
    },
  );

  it('bears a turn of four degrees between two frames', () => {
    expect(error({ turn_deg: 4 })).toBeLessThan(0.08);
    expect(error({ turn_deg: -4 })).toBeLessThan(0.08);
  });

  it('is right on the average through noise, and to a tenth of a pixel each time', () => {
    const random = createRandom(7);
    const errors = Array.from({ length: 40 }, (_, seed) => {
      const off = { x: random.between(-3, 3), y: random.between(-3, 3) };
      const { centre } = follow({ off, seed })!;
      return { x: centre.x - PLACE.x, y: centre.y - PLACE.y };
    });
    for (const axis of ['x', 'y'] as const) {
      const mean = errors.reduce((sum, e) => sum + e[axis], 0) / errors.length;
      const rms = Math.sqrt(errors.reduce((sum, e) => sum + e[axis] ** 2, 0) / errors.length);
      expect(Math.abs(mean)).toBeLessThan(0.03);
      expect(rms).toBeLessThan(0.1);
    }
  });

  it('tells the light of bright and dark quadrants', () => {
    const { bright, dark } = follow({})!;
    expect(bright).toBeGreaterThan(0.5);
    expect(bright).toBeLessThan(0.52);
    expect(dark).toBeGreaterThan(0.005);
    expect(dark).toBeLessThan(0.015);
  });

  it('sees obliquely as well', () => {
    const photoFromChart = obliqueView(SCALE, PLACE, 35, 60);
    const photo = { width: SIZE, height: SIZE, blur_px: 1, dark: 0.01, contrast: 0.5, fineness: 3, photoFromChart };
    const sample = createLightSampler(pixelsOf(lightOfMarks([MARK], photo), SIZE, SIZE, 8));
    const { centre } = followCrossing(sample, predictFrame(viewOf(photo), MARK))!;
    expect(Math.hypot(centre.x - PLACE.x, centre.y - PLACE.y)).toBeLessThan(0.06);
  });

  it('follows nothing that is not there, is the other eye’s, or is out of reach', () => {
    expect(follow({ contrast: 0.0005 })).toBeUndefined();
    expect(follow({ turn_deg: 90 })).toBeUndefined();
    expect(follow({ off: { x: 0.9 * RADIUS_PX, y: 0 } })).toBeUndefined();
    expect(follow({ off: { x: SIZE, y: 0 } })).toBeUndefined();
  });
});
