import { describe, expect, it } from 'vitest';
import {
  FILM_WIDTH_MM,
  layoutFilmFrame,
  MM_PER_INCH,
  PERFORATION_PITCH_MM,
  PICTURE_CENTRE_LINE_MM,
  PICTURE_WIDTH_MM,
} from '../../src/target/film-frame.ts';

const frameAt = (centreToCentre_in: number, aspect = 2.35) => layoutFilmFrame({ centreToCentre_in, aspect });

describe('the two-up film frame', () => {
  it('is four perforations of 4.750 mm high: 19.000 mm (SMPTE ST 119:2011, ISO 23/491 as reported)', () => {
    expect(frameAt(0.375).frameHeight_mm).toBeCloseTo(19, 9);
    // The inch figure 4 x 0.1870 in differs by 0.8 um.
    expect(4 * 0.187 * MM_PER_INCH - frameAt(0.375).frameHeight_mm).toBeCloseTo(-0.0008, 9);
  });

  it('stands on the line 18.735 mm from the reference edge, 1.2475 mm off the film centre (computed from ISO 2907, SMPTE 102)', () => {
    expect(PICTURE_CENTRE_LINE_MM).toBeCloseTo(18.735, 9);
    expect(PICTURE_CENTRE_LINE_MM - FILM_WIDTH_MM / 2).toBeCloseTo(1.2475, 9);
    for (const { x_mm } of frameAt(0.375).pictures) expect(x_mm).toBe(PICTURE_CENTRE_LINE_MM);
  });

  it.each([
    // Common practice, no source; gaps computed with h = 0.825 in / 2.35.
    [0.387, 0.036, 0.01],
    [0.375, 0.024, 0.022],
    [0.363, 0.012, 0.034],
  ])(
    '%s in centre to centre leaves a septum of %s in and a frame line of %s in',
    (distance_in, septum_in, frameLine_in) => {
      const frame = frameAt(distance_in);
      expect(frame.septum_mm / MM_PER_INCH).toBeCloseTo(septum_in, 3);
      expect(frame.frameLine_mm / MM_PER_INCH).toBeCloseTo(frameLine_in, 3);
      expect(2 * frame.pictureHeight_mm + frame.septum_mm + frame.frameLine_mm).toBeCloseTo(19, 9);
      expect(frame.pictureHeight_mm).toBeCloseTo(PICTURE_WIDTH_MM / 2.35, 9);
    },
  );

  it('puts the pictures half the distance above and below the frame centre, the right eye above unless told otherwise', () => {
    const heights = (frame: ReturnType<typeof frameAt>) =>
      Object.fromEntries(frame.pictures.map(({ eye, y_mm }) => [eye, y_mm]));
    const usual = heights(frameAt(0.375));
    expect(usual.right).toBeCloseTo((0.375 * 25.4) / 2, 9);
    expect(usual.left).toBeCloseTo((-0.375 * 25.4) / 2, 9);
    const other = heights(layoutFilmFrame({ centreToCentre_in: 0.375, aspect: 2.35, upperEye: 'left' }));
    expect(other).toEqual({ left: usual.right, right: usual.left });
  });

  it('has its ends midway between perforations', () => {
    const { perforations_y_mm, frameHeight_mm } = frameAt(0.375);
    expect(perforations_y_mm).toEqual([7.125, 2.375, -2.375, -7.125]);
    expect(frameHeight_mm / 2 - perforations_y_mm[0]!).toBeCloseTo(PERFORATION_PITCH_MM / 2, 9);
  });

  it('refuses distances at which pictures would overlap, and shapes of which no two fit', () => {
    expect(() => frameAt(0.35)).toThrow(/between 0\.351 and 0\.397 in/);
    expect(() => frameAt(0.4)).toThrow(RangeError);
    expect(() => frameAt(Number.NaN)).toThrow(RangeError);
    expect(() => frameAt(0.375, 1.85)).toThrow(/do not fit into one frame of 19 mm/);
    expect(() => layoutFilmFrame({ centreToCentre_in: 0.375, aspect: 2.35, pictureWidth_mm: 25 })).toThrow(RangeError);
  });

  it('takes narrower pictures, so that squarer shapes fit', () => {
    const frame = layoutFilmFrame({ centreToCentre_in: 0.375, aspect: 1.85, pictureWidth_mm: 16 });
    expect(frame.pictureHeight_mm).toBeCloseTo(16 / 1.85, 9);
  });
});
