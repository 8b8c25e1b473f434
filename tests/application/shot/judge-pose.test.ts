import { describe, expect, it } from 'vitest';
import { judgePose } from '../../../src/application/shot/judge-pose.ts';
import type { FittedViews } from '../../../src/geometry/fit-views.ts';
import { compose, type Homography } from '../../../src/kernel/homography.ts';
import { plainLens } from '../../../src/kernel/view.ts';
import { photoFromScreen } from '../../../src/scene/camera.ts';
import { placeCamera } from '../../../src/scene/place-camera.ts';

const size = { width_px: 3000, height_px: 2000 };

function judge(photoFromChart: Homography) {
  const fit = { eyes: ['right'], views: { right: { photoFromChart, lens: plainLens(3000, 2000) } } };
  return judgePose(fit as unknown as FittedViews);
}

/** The chart as a camera of the simulated house sees it, the camera rolled counter-clockwise. */
function seenFrom(azimuth_deg: number, elevation_deg: number, roll_deg = 0): Homography {
  return photoFromScreen({ ...placeCamera({ ...size, distance_ih: 4, azimuth_deg, elevation_deg }), roll_deg });
}

describe('judgePose', () => {
  it('is content with a camera anywhere in the house, level or on its side', () => {
    for (const [azimuth, elevation, roll] of [
      [0, 0, 0],
      [25, -10, 3],
      [-40, 8, -90],
      [10, 0, 90],
      [55, 0, 0],
    ]) {
      expect(judge(seenFrom(azimuth, elevation, roll)), `${azimuth} ${elevation} ${roll}`).toBeUndefined();
    }
  });

  it.each([180, -170, 130, -130])('refuses a photograph turned by %d degrees, and says by how much', (roll) => {
    const result = judge(seenFrom(5, 0, roll))!;
    expect(result.code).toBe('upside-down');
    // The picture turns against the camera.
    const found = Number(result.facts.roll_deg) + roll;
    expect(Math.abs(Math.atan2(Math.sin((found * Math.PI) / 180), Math.cos((found * Math.PI) / 180)))).toBeLessThan(
      0.05,
    );
  });

  it('refuses a mirrored view whichever way it is turned', () => {
    const mirror: Homography = [-1, 0, 0, 0, 1, 0, 0, 0, 1];
    for (const roll of [0, 100, 180])
      expect(judge(compose(seenFrom(5, 3, roll), mirror))).toMatchObject({ code: 'mirrored' });
  });

  it('refuses a view from 65 degrees with its angle, to a degree', () => {
    for (const [azimuth, elevation] of [
      [65, 0],
      [-65, 0],
      [0, 65],
    ]) {
      const result = judge(seenFrom(azimuth, elevation))!;
      expect(result.code).toBe('too-oblique');
      expect(Math.abs(Number(result.facts.angle_deg) - 65)).toBeLessThan(1);
    }
  });
});
