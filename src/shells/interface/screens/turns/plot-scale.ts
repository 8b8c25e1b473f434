/** The scale on which rounds converge: linear, or logarithmic where the errors shrink by more than an eye follows. */

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

export function chooseScale({ values, points, areAmounts }: PlotRange): PlotScale {
  const positive = points.filter((value) => value > 0);
  const isWide = positive.length > 1 && Math.max(...positive) / Math.min(...positive) > LINEAR_UP_TO;
  return areAmounts && isWide
    ? logarithmic([...values.filter((v) => v > 0), ...positive], Math.min(...positive))
    : linear(values, areAmounts);
}

/** A bar that reaches below nothing ends at the border: the foot is a third of the smallest point at the least. */
function logarithmic(values: readonly number[], smallest: number): PlotScale {
  const low = niceBelow(Math.max(Math.min(...values), smallest / 3));
  const high = niceStep(Math.max(...values));
  const first = Math.ceil(Math.log10(low) - 1e-9);
  const last = Math.floor(Math.log10(high) + 1e-9);
  const ticks = Array.from({ length: last - first + 1 }, (_, i) => Number((10 ** (first + i)).toPrecision(6)));
  const length = Math.log10(high / low);
  return {
    kind: 'logarithmic',
    low,
    high,
    ticks,
    place: (value) => clip(Math.log10(Math.max(value, low) / low) / length),
  };
}

/** 1, 2 or 5 times a power of ten, not above `most`. */
function niceBelow(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most));
  return power * [5, 2, 1].find((m) => m * power <= most * (1 + 1e-9))!;
}

function linear(values: readonly number[], areAmounts: boolean): PlotScale {
  const least = areAmounts ? 0 : Math.min(0, ...values);
  const most = Math.max(0, ...values);
  const step = niceStep((most - least || 1) / 4);
  const [low, high] = [Math.floor(least / step + 1e-9) * step, Math.ceil((most || step) / step - 1e-9) * step];
  const count = Math.round((high - low) / step);
  const ticks = Array.from({ length: count + 1 }, (_, i) => Number((low + i * step).toPrecision(6)));
  return { kind: 'linear', low, high, ticks, place: (value) => clip((value - low) / (high - low)) };
}

const clip = (part: number) => Math.max(0, Math.min(1, part));

/** 1, 2 or 5 times a power of ten, not below `least`. */
export function niceStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  return power * ([1, 2, 5].find((m) => m * power >= least * (1 - 1e-9)) ?? 10);
}
