import { describe, expect, it } from 'vitest';
import {
  type HouseLengths,
  layoutFilm,
  layoutSideView,
  readLengths,
} from '../../../../../src/shells/interface/screens/house/drawing-layout.ts';
import { BLANK_DRAFT, withValue } from '../../../../../src/shells/interface/screens/house/house-draft.ts';
import { layoutFilmFrame } from '../../../../../src/target/film-frame.ts';
import { MERIDIAN } from './meridian.ts';

describe('the lengths of a drawing', () => {
  it('are those of the House', () => {
    expect(readLengths(MERIDIAN)).toEqual({
      pictureWidth_m: 10.4,
      pictureAspect: 2.35,
      throw_m: 27,
      nearestRow_m: 6.5,
      referenceSeat_m: 15,
      centreToCentre_in: 0.375,
      filmWidth_mm: 20.95,
      filmHeight_mm: null,
    });
  });

  it('are unknown or as usual where a draft says nothing that can be drawn', () => {
    const tree = withValue(withValue(BLANK_DRAFT.tree, 'throw_m', 'far'), 'screen.picture_width_m', -3);
    expect(readLengths(tree)).toMatchObject({ throw_m: null, pictureWidth_m: null, pictureAspect: 2.35 });
  });
});

const NOTHING: HouseLengths = {
  pictureWidth_m: null,
  pictureAspect: 2.35,
  throw_m: null,
  nearestRow_m: null,
  referenceSeat_m: null,
  centreToCentre_in: null,
  filmWidth_mm: 20.95,
  filmHeight_mm: null,
};
const LENGTHS: HouseLengths = {
  ...NOTHING,
  pictureWidth_m: 10.4,
  throw_m: 27,
  nearestRow_m: 6.5,
  referenceSeat_m: 15,
};

describe('the house from the side', () => {
  it('is to scale along the floor and in the height of the picture', () => {
    const { scale, screen, projector, nearestRow, referenceSeat } = layoutSideView(LENGTHS)!;
    expect(projector!.x - screen!.x).toBeCloseTo(27 * scale, 9);
    expect(nearestRow!.x - screen!.x).toBeCloseTo(6.5 * scale, 9);
    expect(referenceSeat!.x - screen!.x).toBeCloseTo(15 * scale, 9);
    expect(screen!.bottom - screen!.top).toBeCloseTo((10.4 / 2.35) * scale, 9);
  });

  it('writes each length under a line as long as it, shortest first', () => {
    const { lengths, scale, height } = layoutSideView(LENGTHS)!;
    expect(lengths.map(({ of }) => of)).toEqual(['nearest', 'reference', 'throw']);
    for (const { from, to, length_m, y } of lengths) {
      expect(to - from).toBeCloseTo(length_m * scale, 9);
      expect(y).toBeLessThan(height);
    }
  });

  it('stays inside its frame, for every house that the schema takes', () => {
    for (const pictureWidth_m of [0.5, 40])
      for (const throw_m of [1, 150])
        for (const seat of [0.5, 100, 150]) {
          const view = layoutSideView({
            ...LENGTHS,
            pictureWidth_m,
            pictureAspect: 1.33,
            throw_m,
            nearestRow_m: seat,
            referenceSeat_m: seat,
          })!;
          expect(view.screen!.top).toBeGreaterThanOrEqual(0);
          expect(view.screen!.bottom).toBeLessThanOrEqual(view.floor);
          expect(view.height).toBeLessThan(460);
          for (const { x } of [view.projector!, view.nearestRow!, view.referenceSeat!]) {
            expect(x).toBeGreaterThan(0);
            expect(x).toBeLessThan(view.width);
          }
        }
  });

  it('begins with the first length, and shows only what is known', () => {
    expect(layoutSideView(NOTHING)).toBeNull();
    expect(layoutSideView({ ...NOTHING, pictureWidth_m: 10 })).toBeNull();
    expect(layoutSideView({ ...NOTHING, throw_m: 20 })).toMatchObject({ screen: null, nearestRow: null });
  });
});

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
    const drawn = layoutFilm(lengthsOf(distance))!;
    const frame = layoutFilmFrame({ centreToCentre_in: distance, aspect: 2.35 });
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
    expect(layoutFilm(lengthsOf(0.375, 2.35, 8.9))!.septum_mm).toBeCloseTo(0.375 * 25.4 - 8.9, 12);
  });

  it('says when the pictures lie on each other, and is not drawn without a distance', () => {
    expect(layoutFilm(lengthsOf(0.375, 1.85))!.isOverlapping).toBe(true);
    expect(layoutFilm(lengthsOf(0.375))!.isOverlapping).toBe(false);
    expect(layoutFilm(lengthsOf(null))).toBeNull();
  });
});
