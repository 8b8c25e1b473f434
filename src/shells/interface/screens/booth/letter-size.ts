/**
 * How large letters must be to be read from across the booth.
 *
 * An eye of normal acuity just reads a letter that is 5 arcminutes high (a visual acuity of 1 resolves 1 arcminute, and
 * the test letters are five such parts high: ISO 8596). Just reading takes time, good light and good eyes. Here three times
 * as much is taken for the amount and the direction, so that a glance or an eye of acuity 1/3 is enough, and twice as
 * much for what stands beside them. The factors are our choice, not a standard's.
 *
 *   height on the screen = distance x tan(angle);  letter size = height / (pixel pitch x capital height per letter size)
 *
 * Reckoned for the smallest usual laptop of a booth, 15 inches across, whatever its pixels are: a page does not know how
 * large its screen is. On a larger one everything is larger too, because sizes are parts of the window.
 */

const DISTANCE_M = 5;
const SCREEN_DIAGONAL_IN = 15;
/** Arcminutes of a capital's height. */
export const AT_A_GLANCE_ARCMIN = 15;
export const WITH_EASE_ARCMIN = 10;
/** Of the fonts that the interface asks for, the one with the lowest capitals: 0.66 of the letter size. */
const CAPITAL_PART = 0.66;

const MM_PER_IN = 25.4;

export interface Window {
  readonly width_px: number;
  readonly height_px: number;
}

/** Letter size in px of a window that fills a screen of 15 inches. */
export function letterSize_px(arcmin: number, { width_px, height_px }: Window): number {
  const pitch_mm = (SCREEN_DIAGONAL_IN * MM_PER_IN) / Math.hypot(width_px, height_px);
  const height_mm = 1000 * DISTANCE_M * Math.tan((arcmin / 60) * (Math.PI / 180));
  return height_mm / (pitch_mm * CAPITAL_PART);
}

/** Mean width of a letter and height of a line, in letter sizes; both on the safe side for plain sans-serif fonts. */
const LETTER_WIDTH = 0.54;
const LINE_HEIGHT = 1.15;
/** The parts of the window that a sentence may fill. */
const FILLED = { width: 0.9, height: 0.645 };

/** As large as the sentence fits, but no larger than is read at a glance. */
export function fitSentence_px(length: number, window: Window): number {
  const area = FILLED.width * window.width_px * (FILLED.height * window.height_px);
  // A ragged margin leaves about a sixth of each line empty.
  const fitting = Math.sqrt((area * (5 / 6)) / (Math.max(1, length) * LETTER_WIDTH * LINE_HEIGHT));
  return Math.min(letterSize_px(AT_A_GLANCE_ARCMIN, window), fitting);
}

/** Bold letters are wider, and a line that must not break may hold many of them. */
const WIDE_LETTER = 0.62;

/** Size for a line that must not break, no larger than asked for. */
export function fitLine_px(length: number, width_px: number, most_px: number): number {
  return Math.min(most_px, width_px / (Math.max(1, length) * WIDE_LETTER));
}
