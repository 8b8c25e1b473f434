/**
 * How still the picture stands, from the places of its marks in the frames of the last second.
 *
 * The displacement between two frames is taken in each quarter of the target by itself (mean over the marks that both
 * frames show there), so that turning and zooming count, and the noise of single marks does not.
 */
import { meanOfSeries } from '../../kernel/linear-fit.ts';
import type { Point } from '../../kernel/point.ts';
import { standardDeviation } from '../../kernel/statistics.ts';

/** Where marks were seen: by the mark's number on the chart; NaN where it was not. */
export interface SeenPlaces {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

const WINDOW_MS = 1000;
/** Shorter than this nothing can be said about a second. */
const MIN_SPAN_MS = 400;
const MIN_FRAMES = 3;
/** Where frames come slowly older ones count as well, up to this age, until there are enough. */
const OLDEST_MS = 8000;
/** Fewest marks that speak for a quarter of the target. */
const MIN_MARKS = 3;

interface Past {
  readonly places: SeenPlaces;
  readonly at_ms: number;
}

export class MovementGauge {
  readonly #quarterOf: readonly number[];
  #past: Past[] = [];

  /** `marks`: chart places of all marks, in the order of their numbers. */
  constructor(marks: readonly Point[]) {
    this.#quarterOf = marks.map(({ x, y }) => (x < 0 ? 0 : 1) + (y < 0 ? 0 : 2));
  }

  forget(): void {
    this.#past = [];
  }

  /** Farthest displacement from any frame of the last second, px; null until there are enough of them. `at_ms` never falls. */
  add(places: SeenPlaces, at_ms: number): number | null {
    const ofSecond = this.#past.filter((past) => past.at_ms > at_ms - WINDOW_MS).length;
    const known = this.#past
      .slice(-Math.max(ofSecond, MIN_FRAMES))
      .filter((past) => past.at_ms > at_ms - OLDEST_MS && past.at_ms <= at_ms);
    this.#past = [...known, { places, at_ms }];
    if (known.length < MIN_FRAMES || at_ms - known[0]!.at_ms < MIN_SPAN_MS) return null;
    const moved = known.map((past) => this.displacement(past.places, places)).filter((d) => d !== undefined);
    return moved.length < MIN_FRAMES ? null : Math.max(...moved);
  }

  /** Largest displacement of a quarter between two frames, px; `undefined` where they share too few marks. */
  displacement(a: SeenPlaces, b: SeenPlaces): number | undefined {
    const sums = [0, 1, 2, 3].map(() => ({ x: 0, y: 0, count: 0 }));
    for (let i = 0; i < this.#quarterOf.length; i++) {
      const dx = b.x[i] - a.x[i];
      const dy = b.y[i] - a.y[i];
      if (Number.isNaN(dx)) continue;
      const sum = sums[this.#quarterOf[i]];
      sum.x += dx;
      sum.y += dy;
      sum.count++;
    }
    const told = sums.filter(({ count }) => count >= MIN_MARKS);
    if (told.length === 0) return undefined;
    return Math.max(...told.map(({ x, y, count }) => Math.hypot(x, y) / count));
  }
}

/** How far the picture wandered among the frames of a shot, px. */
export interface Wander {
  /** Standard deviation of its place from frame to frame. */
  readonly spread: Point;
  /** Standard uncertainty of its mean place: film that weaves slowly is hardly averaged. Null for two frames. */
  readonly mean_u: Point | null;
}

/** Null for fewer than two frames, or without marks in common. */
export function wanderOf(frames: readonly SeenPlaces[]): Wander | null {
  const [first] = frames;
  if (!first || frames.length < 2) return null;
  const common = [...first.x.keys()].filter((i) => frames.every(({ x }) => !Number.isNaN(x[i])));
  if (common.length < MIN_MARKS) return null;
  const placesAlong = (axis: 'x' | 'y') =>
    frames.map((frame) => common.reduce((sum, i) => sum + frame[axis][i], 0) / common.length);
  const [x, y] = [placesAlong('x'), placesAlong('y')];
  return {
    spread: { x: standardDeviation(x), y: standardDeviation(y) },
    mean_u: frames.length < 3 ? null : { x: meanOfSeries(x).u, y: meanOfSeries(y).u },
  };
}
