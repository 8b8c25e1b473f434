import { describe, expect, it } from 'vitest';
import { layOutFilm } from '../../../../../../src/shells/interface/screens/house/drawing/lay-out-film.ts';
import { layOutFilmFrame } from '../../../../../../src/target/film-frame.ts';

const lengthsOf = (centreToCentre_in: number | null, pictureAspect = 2.35, filmHeight_mm: number | null = null) => ({
  pictureWidth_m: null,
  pictureAspect,
  throw_m: null,
  nearestRow_m: null,
  referenceSeat_m: null,
  centreToCentre_in,
  filmWidth_mm: 20.95,
  filmHeight_mm,
});

describe('the frame of the film that is drawn', () => {
  it.each([0.387, 0.375, 0.363])('is that of the target, for %f in', (distance) => {
    const drawn = layOutFilm(lengthsOf(distance))!;
    const frame = layOutFilmFrame({ centreToCentre_in: distance, aspect: 2.35 });
    expect(drawn.width_mm).toBe(frame.filmWidth_mm);
    expect(drawn.frameHeight_mm).toBe(frame.frameHeight_mm);
    expect(drawn.septum_mm).toBeCloseTo(frame.septum_mm, 12);
    expect(drawn.frameLine_mm).toBeCloseTo(frame.frameLine_mm, 12);
    // The target counts heights upwards from the frame's centre, the drawing downwards from its top.
    drawn.pictures.forEach((picture, i) => {
      expect(picture.x_mm + picture.width_mm / 2).toBeCloseTo(frame.pictures[1 - i]!.x_mm, 12);
      expect(frame.frameHeight_mm / 2 - (picture.y_mm + picture.height_mm / 2)).toBeCloseTo(
        frame.pictures[1 - i]!.y_mm,
        12,
      );
    });
    const holes = frame.perforations_y_mm.map((y) => frame.frameHeight_mm / 2 - y);
    expect(drawn.perforations_y_mm).toEqual(holes);
  });

  it('takes the height of the plate where it is given', () => {
    expect(layOutFilm(lengthsOf(0.375, 2.35, 8.9))!.septum_mm).toBeCloseTo(0.375 * 25.4 - 8.9, 12);
  });

  it('says when the pictures lie on each other, and is not drawn without a distance', () => {
    expect(layOutFilm(lengthsOf(0.375, 1.85))!.isOverlapping).toBe(true);
    expect(layOutFilm(lengthsOf(0.375))!.isOverlapping).toBe(false);
    expect(layOutFilm(lengthsOf(null))).toBeNull();
  });
});
