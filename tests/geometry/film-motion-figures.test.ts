/** The published figures of film motion that the default rests on, with how each was obtained. */
import { describe, expect, it } from 'vitest';
import { defaultPriors, framesOfExposure } from '../../src/geometry/budget-priors.ts';
import { MAX_FILM_MOVEMENT_IH } from '../../src/application/pair/judge-movement.ts';
import { arcminutesFromOffset } from '../../src/kernel/angles.ts';

const MM_PER_INCH = 25.4;
/** ISO 2907, 2.35 : 1, stacked. */
const PICTURE_MM = 20.95 / 2.35;

const FIGURES = {
  /** Mitchell, International Projectionist, August 1963: read. */
  intermittent_mm: { value: 0.0004 * MM_PER_INCH, flag: 'read' },
  /** The same page: "nearly three times the allowable error in film perforation"; computed from it. */
  perforation_mm: { value: (0.0004 * MM_PER_INCH) / 3, flag: 'computed' },
  /** Jaklitsch 2004 and Webers 2007, quoted in an encyclopedia: read second-hand. */
  wholeChain_mm: { value: 0.01, flag: 'second-hand' },
  /** A register-pin camera negative, "better than 1/1000 of the picture height", an encyclopedia: read second-hand. */
  cameraNegative_ih: { value: 1e-3, flag: 'second-hand' },
  /** Frielinghaus, fktg.org: 0.24 % of the width; abstract read. */
  legible_mm: { value: 0.0024 * 20.95, flag: 'abstract' },
} as const;

describe('published figures of film motion', () => {
  it('are these, in millimetres on the film', () => {
    expect(FIGURES.intermittent_mm.value).toBeCloseTo(0.0102, 4);
    expect(FIGURES.perforation_mm.value).toBeCloseTo(0.0034, 4);
    expect(FIGURES.legible_mm.value).toBeCloseTo(0.0503, 4);
  });
  it('0.010 mm are 0.112 % of a stacked picture, 4.96 mm on a screen 10.4 m wide, 1.14 minutes of arc from 15 m', () => {
    const part = FIGURES.wholeChain_mm.value / PICTURE_MM;
    expect(100 * part).toBeCloseTo(0.112, 3);
    const onScreen_mm = (FIGURES.wholeChain_mm.value / 20.95) * 10_400;
    expect(onScreen_mm).toBeCloseTo(4.964, 3);
    expect(arcminutesFromOffset(onScreen_mm, 15_000)).toBeCloseTo(1.138, 3);
  });
  it.each([
    [0.0025, 0.028, 1.24, 0.28],
    [0.005, 0.056, 2.48, 0.57],
    [0.01, 0.112, 4.96, 1.14],
    [0.05, 0.56, 24.8, 5.7],
  ])(
    '%f mm on the film: %f %% of the height, %f mm on the screen, %f minutes of arc; computed',
    (mm, pct, onScreen, arc) => {
      const onScreen_mm = (mm / 20.95) * 10_400;
      expect(Math.abs((100 * mm) / PICTURE_MM / pct - 1)).toBeLessThan(0.01);
      expect(Math.abs(onScreen_mm / onScreen - 1)).toBeLessThan(0.01);
      expect(Math.abs(arcminutesFromOffset(onScreen_mm, 15_000) / arc - 1)).toBeLessThan(0.02);
    },
  );
  it('a camera negative may move as far as the whole chain; the default is half of either', () => {
    const frame = defaultPriors(PICTURE_MM, { left: 1, right: 1 }).film!.jump.u;
    expect(FIGURES.cameraNegative_ih.value / frame).toBeGreaterThan(1.5);
    expect(FIGURES.cameraNegative_ih.value / frame).toBeLessThan(2.5);
  });
  it.each([
    [1, Math.SQRT2],
    [2, 1],
    [4, Math.SQRT1_2],
    [9, Math.SQRT2 / 3],
  ])('the difference of means of %i exposures each is known to %f of one frame; computed', (count, times) => {
    const { film } = defaultPriors(PICTURE_MM, { left: count, right: count });
    const { jump, frames } = film!;
    expect((jump.u * Math.sqrt(1 / frames.left + 1 / frames.right)) / jump.u).toBeCloseTo(times, 3);
  });
  it('the default takes a hundredth of a millimetre as two standard deviations', () => {
    const { film } = defaultPriors(PICTURE_MM, { left: 1, right: 1 });
    expect(2 * film!.jump.u * PICTURE_MM).toBeCloseTo(FIGURES.wholeChain_mm.value, 12);
    expect(film!.weave.u).toBe(film!.jump.u);
  });
  it('jump averages over the frames of an exposure: 1/8, 1/2 and 1 second', () => {
    const smaller = [1 / 8, 1 / 2, 1].map((seconds) => 1 / Math.sqrt(framesOfExposure(seconds)));
    expect(smaller).toEqual([0.577, 0.289, 0.204].map((factor) => expect.closeTo(factor, 3)));
  });
  it('what exceeds the largest published figure is no matter of film', () => {
    expect(MAX_FILM_MOVEMENT_IH * PICTURE_MM).toBeCloseTo(FIGURES.legible_mm.value, 3);
  });
});
