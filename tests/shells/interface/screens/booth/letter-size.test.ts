import { describe, expect, it } from 'vitest';
import {
  AT_A_GLANCE_ARCMIN,
  fitLine_px,
  fitSentence_px,
  letterSize_px,
  WITH_EASE_ARCMIN,
} from '../../../../../src/shells/interface/screens/booth/letter-size.ts';

const FULL_HD = { width_px: 1920, height_px: 1080 };
const SMALL = { width_px: 1280, height_px: 800 };

/** Millimetres of a capital on a 15-inch screen: 0.66 of the letter size. */
const capital_mm = (letter_px: number, { width_px, height_px }: typeof FULL_HD) =>
  0.66 * letter_px * ((15 * 25.4) / Math.hypot(width_px, height_px));

describe.each([FULL_HD, SMALL])('on a laptop of $width_px x $height_px pixels', (window) => {
  it.each([
    [AT_A_GLANCE_ARCMIN, 21.8],
    [WITH_EASE_ARCMIN, 14.5],
  ])('%i arcminutes at five metres are %f mm', (arcmin, height_mm) => {
    expect(capital_mm(letterSize_px(arcmin, window), window)).toBeCloseTo(height_mm, 1);
  });

  it.each([
    ['Within tolerance: leave it.'.length, AT_A_GLANCE_ARCMIN],
    // Exchanged eyes, a ghost: the longest sentences that come without turns in a house that is described.
    [155, 8],
    // Four motions in a house that is not: no letters of a laptop are larger, but an eye of acuity 1 still reads them.
    [240, 6],
  ])('a sentence of %i letters is at least %f arcminutes high', (length, arcmin) => {
    expect(fitSentence_px(length, window)).toBeGreaterThan(letterSize_px(arcmin, window) * (1 - 1e-9));
  });
});

it('is 191 px at 1920 x 1080', () => {
  expect(letterSize_px(AT_A_GLANCE_ARCMIN, FULL_HD)).toBeCloseTo(191, 0);
});

it('fills no more than the window', () => {
  for (const length of [1, 30, 120, 500]) {
    const px = fitSentence_px(length, FULL_HD);
    const letters_per_line = Math.floor((0.9 * FULL_HD.width_px * (5 / 6)) / (0.54 * px));
    expect(Math.ceil(length / letters_per_line) * 1.15 * px).toBeLessThan(0.85 * FULL_HD.height_px);
  }
});

it('makes a line small enough not to break', () => {
  expect(fitLine_px(16, 1000, 300)).toBeCloseTo(1000 / (16 * 0.62), 6);
  expect(fitLine_px(4, 1000, 120)).toBe(120);
});
