/**
 * Where everything of a trend's drawing lies: readings with their 95 % intervals, the band of the limits in force at each,
 * the line of the drift since hands were last on the machine, and the marks of both scales. Page and report draw the same.
 */
import { scaleLinear, scaleUtc } from 'd3-scale';
import { median } from '../kernel/statistics.ts';
import type { Trend, TrendPoint } from '../record/trend.ts';

export interface PlotFrame {
  readonly width: number;
  readonly height: number;
  /** Room for the marks of the scales: on the left, and below. */
  readonly left: number;
  readonly bottom: number;
}

export interface PlottedPoint {
  readonly point: TrendPoint;
  readonly x: number;
  readonly y: number;
  /** Ends of the 95 % interval. */
  readonly top: number;
  readonly base: number;
  readonly isOutside: boolean;
}

export interface TrendPlot {
  readonly frame: PlotFrame;
  readonly points: readonly PlottedPoint[];
  readonly bands: readonly {
    readonly x: number;
    readonly width: number;
    readonly top: number;
    readonly base: number;
  }[];
  readonly drift: { readonly x1: number; readonly y1: number; readonly x2: number; readonly y2: number } | null;
  readonly zero: number;
  readonly values: readonly { readonly value: number; readonly decimals: number; readonly y: number }[];
  /** Days, as "2026-03-14". */
  readonly days: readonly { readonly day: string; readonly x: number }[];
}

const DAY_MS = 86_400_000;
const MARGIN = 8;
const VALUES = 5;
/** Letters of a date need so much room. */
const DAY_WIDTH = 100;
/** Limits are shown whole unless they are so many times as wide as all that was found. */
const WIDEST_BAND = 12;

/** `undefined` where nothing was measured. */
export function layoutTrend({ field, points: given, drift }: Trend, frame: PlotFrame): TrendPlot | undefined {
  if (given.length === 0) return undefined;
  const points = AMOUNTS.has(field) ? given.map(withoutLowLimit) : given;
  const times = points.map(({ saved_at }) => Date.parse(saved_at));
  const [from, to] = [Math.min(...times), Math.max(...times)];
  const span = to - from || DAY_MS;
  const start = to === from ? from - span / 2 : from;
  const across = frame.width - frame.left - 2 * MARGIN;
  const xAt = scaleUtc([start, start + span], [frame.left + MARGIN, frame.width - MARGIN]);
  const [low, high] = rangeOf(points);
  const yAt = scaleLinear([low, high], [frame.height - frame.bottom - MARGIN, MARGIN]);
  const yWithin = yAt.copy().clamp(true);
  const values = yAt.ticks(VALUES);
  const decimals = Math.max(0, -Math.floor(Math.log10(values[1]! - values[0]!) + 1e-9));
  const whole = xAt
    .ticks(Math.max(1, Math.floor(across / DAY_WIDTH)))
    .map(Number)
    .filter((time) => time % DAY_MS === 0 && time >= from && time <= to);
  // The ticks of a calendar may be more than were asked for: weeks where months are too few.
  const stride = whole.length > 1 ? Math.ceil(DAY_WIDTH / (xAt(whole[1]!) - xAt(whole[0]!))) : 1;
  const days = whole.filter((_, i) => i % stride === 0);

  return {
    frame,
    points: points.map((point, i) => ({
      point,
      x: xAt(times[i]!),
      y: yAt(point.value),
      top: yAt(point.value + 2 * point.u),
      base: yAt(point.value - 2 * point.u),
      isOutside: isBeyond(point),
    })),
    bands: points.flatMap(({ limits }, i) => {
      if (limits === null) return [];
      const x = i === 0 ? frame.left : (xAt(times[i - 1]!) + xAt(times[i]!)) / 2;
      const end = i === points.length - 1 ? frame.width : (xAt(times[i]!) + xAt(times[i + 1]!)) / 2;
      const [top, base] = [yWithin(limits.high ?? high), yWithin(limits.low ?? low)];
      return [{ x, width: end - x, top, base }];
    }),
    drift: placeDrift(points, drift, times, (time, value) => ({ x: xAt(time), y: yWithin(value) })),
    zero: yAt(0),
    values: values.map((value) => ({ value, decimals, y: yAt(value) })),
    days: (days.length > 0 ? days : [to]).map((time) => ({
      day: new Date(time).toISOString().slice(0, 10),
      x: xAt(time),
    })),
  };
}

/** What cannot lie below zero has no limit there. */
const AMOUNTS = new Set<Trend['field']>(['worst_vertical_pct', 'crosstalk_left_pct', 'crosstalk_right_pct']);

function withoutLowLimit(point: TrendPoint): TrendPoint {
  const { limits, value } = point;
  return limits === null || value < 0 ? point : { ...point, limits: { low: 0, high: limits.high } };
}

/** Zero is always in sight; limits are, unless what was found would shrink to a line beside them. */
function rangeOf(points: readonly TrendPoint[]): [number, number] {
  const ends = points.flatMap(({ value, u }) => [value - 2 * u, value + 2 * u]);
  const limits = points.flatMap((point) => [point.limits?.low, point.limits?.high]).filter((end) => end != null);
  const reach = Math.max(...ends.map(Math.abs), 1e-6);
  const shown = limits.filter((limit) => Math.abs(limit) <= WIDEST_BAND * reach);
  const low = Math.min(0, ...ends, ...shown);
  const high = Math.max(0, ...ends, ...shown);
  const room = 0.08 * (high - low);
  return [low - room, high + room];
}

function isBeyond({ value, limits }: TrendPoint): boolean {
  return (limits?.high != null && value > limits.high) || (limits?.low != null && value < limits.low);
}

/** Through the readings since hands were last on the machine, with the slope of the whole row. */
function placeDrift(
  points: readonly TrendPoint[],
  { verdict, slope }: Trend['drift'],
  times: readonly number[],
  place: (time: number, value: number) => { x: number; y: number },
): TrendPlot['drift'] {
  if (slope === null || verdict === 'steady' || verdict === 'too-few') return null;
  const first = Math.max(
    0,
    points.findLastIndex(({ is_after_turns }) => is_after_turns),
  );
  const last = times.length - 1;
  const perMs = slope.value / (30 * DAY_MS);
  const level = median(
    Float64Array.from(points.slice(first), ({ value }, i) => value + perMs * (times[last]! - times[first + i]!)),
  );
  const [a, b] = [place(times[first]!, level - perMs * (times[last]! - times[first]!)), place(times[last]!, level)];
  return { x1: a.x, y1: a.y, x2: b.x, y2: b.y };
}
