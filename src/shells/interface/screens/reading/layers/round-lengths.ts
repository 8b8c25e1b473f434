/** Lengths that can be read off: 1, 2 or 5 times a power of ten. */

/** The largest 1, 2 or 5 times a power of ten that is not above `most`; 0 where `most` is not positive. */
export function roundDown(most: number): number {
  if (!(most > 0) || !Number.isFinite(most)) return 0;
  const power = 10 ** Math.floor(Math.log10(most) + 1e-12);
  const lead = most / power;
  return (lead >= 5 - 1e-9 ? 5 : lead >= 2 - 1e-9 ? 2 : 1) * power;
}

/** The same upwards. */
export function roundUp(least: number): number {
  const below = roundDown(least);
  if (below === 0 || below >= least * (1 - 1e-9)) return below;
  return roundDown(below * 2.51);
}

/** The measure beside a drawing: a round amount, and how long it is drawn. */
export interface Measure {
  readonly amount: number;
  readonly length_px: number;
}

/** The largest round amount that is drawn no longer than `most_px`, where one unit is drawn `unit_px` long. */
export function chooseMeasure(unit_px: number, most_px: number): Measure {
  const amount = roundDown(most_px / unit_px);
  return { amount, length_px: amount * unit_px };
}

/** Factors of exaggeration to choose from: 1, 2, 5, 10 … 10000. */
export const EXAGGERATIONS: readonly number[] = [0, 1, 2, 3]
  .flatMap((e) => [1, 2, 5].map((n) => n * 10 ** e))
  .concat(10_000);

/** Index of the largest factor that draws `longest` no longer than `room`, both in one unit; 0 where none does. */
export function chooseExaggeration(longest: number, room: number): number {
  const most = longest > 0 ? room / longest : Number.POSITIVE_INFINITY;
  return Math.max(
    0,
    EXAGGERATIONS.findLastIndex((factor) => factor <= most * (1 + 1e-9)),
  );
}
