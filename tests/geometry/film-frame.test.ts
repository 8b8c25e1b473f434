import { describe, expect, it } from 'vitest';
import { predictHalfFrameOffset, separatePictures } from '../../src/geometry/film-frame.ts';
import { ASPECT } from '../limits/reading-of.ts';

describe('the frame on the film', () => {
  const film = (cc: number) => ({ centre_to_centre_in: cc, picture_width_mm: 20.955 });

  it('the pictures would fall more than a height apart: cc / h', () => {
    expect(separatePictures(film(0.375), ASPECT)).toBeCloseTo(0.375 / (0.825 / ASPECT), 6);
  });

  // Computed from 0.748 in - 2 cc and a picture 0.825 in / 2.35 high.
  it.each([
    [0.387, +7.4],
    [0.375, +0.57],
    [0.363, -6.27],
  ])('half a frame out with cc %f in puts the right-eye picture %f %% up', (cc, pct) => {
    expect(100 * predictHalfFrameOffset(film(cc), ASPECT, 'right')).toBeCloseTo(pct, 1);
    expect(100 * predictHalfFrameOffset(film(cc), ASPECT, 'left')).toBeCloseTo(-pct, 1);
  });
});
