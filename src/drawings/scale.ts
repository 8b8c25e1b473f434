/** Scales of drawings and their round ticks, lengths that can be read off, and how many times as long arrows are drawn. */
import { scaleLinear, scaleLog } from 'd3-scale';

export interface PlotScale {
  readonly kind: 'linear' | 'logarithmic';
  readonly low: number;
  readonly high: number;
  readonly ticks: readonly number[];
  /** 0 at the foot of the plot, 1 at its top; what lies outside stands at the border. */
  readonly place: (value: number) => number;
}

export interface PlotRange {
  /** Values with the ends of their bars, predictions and limits: all that should be in sight. */
  readonly values: readonly number[];
  /** The values that are shown as points, for choosing the kind. */
  readonly points: readonly number[];
  /** Amounts without a sign; only these can be shown logarithmically. */
  readonly areAmounts: boolean;
}

/** Below this ratio of largest to smallest a linear scale shows both. */
const LINEAR_UP_TO = 20;
const TICKS = 4;

/** A linear scale that holds zero, or a logarithmic one where the errors shrink by more than an eye follows. */
export function chooseScale({ values, points, areAmounts }: PlotRange): PlotScale {
  const positive = points.filter((value) => value > 0);
  const isWide = positive.length > 1 && Math.max(...positive) / Math.min(...positive) > LINEAR_UP_TO;
  if (areAmounts && isWide) return scaleDecades([...values.filter((v) => v > 0), ...positive], Math.min(...positive));
  const scale = scaleLinear([areAmounts ? 0 : Math.min(0, ...values), Math.max(0, ...values) || 1], [0, 1])
    .nice(TICKS)
    .clamp(true);
  const [low, high] = scale.domain() as [number, number];
  return { kind: 'linear', low, high, ticks: scale.ticks(TICKS), place: scale };
}

/** A bar that reaches below nothing ends at the border: the foot is a third of the smallest point at the least. */
function scaleDecades(values: readonly number[], smallest: number): PlotScale {
  const scale = scaleLog([Math.max(Math.min(...values), smallest / 3), Math.max(...values)], [0, 1])
    .nice()
    .clamp(true);
  const [low, high] = scale.domain() as [number, number];
  return {
    kind: 'logarithmic',
    low,
    high,
    ticks: scale.ticks().filter((tick) => Number.isInteger(Math.round(1e9 * Math.log10(tick)) / 1e9)),
    place: (value) => scale(Math.max(value, low)),
  };
}

/** Round values from `low` to `high`, about as many as `count`. */
export function ticksBetween(low: number, high: number, count: number): number[] {
  return scaleLinear([low, high], [0, 1]).ticks(count);
}

/** The largest 1, 2 or 5 times a power of ten that is not above `most`; 0 where `most` is not positive. */
function roundDown(max: number): number {
  if (!(max > 0) || !Number.isFinite(max)) return 0;
  const power = 10 ** Math.floor(Math.log10(max) + 1e-12);
  const lead = max / power;
  return (lead >= 5 - 1e-9 ? 5 : lead >= 2 - 1e-9 ? 2 : 1) * power;
}

/** The smallest 1, 2 or 5 times a power of ten that is not below `least`. */
export function roundUp(min: number): number {
  const below = roundDown(min);
  if (below === 0 || below >= min * (1 - 1e-9)) return below;
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
  const max = longest > 0 ? room / longest : Number.POSITIVE_INFINITY;
  return Math.max(
    0,
    EXAGGERATIONS.findLastIndex((factor) => factor <= max * (1 + 1e-9)),
  );
}

/** Half width of the line of a limit, in limits. */
const SHOWN_LIMITS = 2;

/** Where an amount stands on a line of 100 whose middle is nothing; what lies beyond stands at its end. */
export function placeOnLine(value: number, limit: number): { readonly at: number; readonly isBeyond: boolean } {
  const part = value / limit / SHOWN_LIMITS;
  const clipped = Math.max(-1, Math.min(1, part));
  return { at: 50 + 50 * clipped, isBeyond: Math.abs(part) > 1 };
}
