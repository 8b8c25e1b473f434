import { describe, expect, it } from 'vitest';
import { layoutTrend } from '../../src/drawings/trend-plot.ts';
import type { Drift, Trend, TrendPoint } from '../../src/record/trend.ts';

const FRAME = { width: 600, height: 200, left: 50, bottom: 30 };
const STEADY: Drift = { verdict: 'steady', readings: 5, slope: { value: 0, low: -1, high: 1 }, days_left: null };

const point = (day: number, value: number, more: Partial<TrendPoint> = {}): TrendPoint => ({
  id: 'ab'.repeat(32),
  saved_at: new Date(Date.UTC(2026, 0, day)).toISOString(),
  value,
  u: 0.01,
  limits: { low: -0.5, high: 0.5 },
  is_after_turns: false,
  ...more,
});
const trend = (points: TrendPoint[], drift = STEADY): Trend => ({ field: 'size_pct', points, drift });

describe('the drawing of a trend', () => {
  it('has nothing to show where nothing was measured', () => {
    expect(layoutTrend(trend([]), FRAME)).toBeUndefined();
  });

  it('keeps readings, their intervals and the band inside its frame, time to the right and values up', () => {
    const plot = layoutTrend(trend([point(1, -0.2), point(11, 0.1), point(31, 0.7)]), FRAME)!;
    const [first, second, third] = plot.points;
    expect(first!.x).toBeLessThan(second!.x);
    expect((second!.x - first!.x) / (third!.x - first!.x)).toBeCloseTo(1 / 3, 9);
    expect(third!.y).toBeLessThan(second!.y);
    expect(plot.zero).toBeGreaterThan(second!.y);
    for (const { x, top, base } of plot.points) {
      expect(x).toBeGreaterThanOrEqual(FRAME.left);
      expect(x).toBeLessThanOrEqual(FRAME.width);
      expect(top).toBeGreaterThanOrEqual(0);
      expect(base).toBeLessThanOrEqual(FRAME.height - FRAME.bottom);
    }
    expect(plot.bands.reduce((sum, { width }) => sum + width, 0)).toBeCloseTo(FRAME.width - FRAME.left, 9);
    expect(plot.points.map(({ isOutside }) => isOutside)).toEqual([false, false, true]);
  });

  it('does not shrink what was found to a line beside limits that are far away', () => {
    const wide = { limits: { low: -50, high: 50 } };
    const plot = layoutTrend(trend([point(1, 0.1, wide), point(9, 0.2, wide)]), FRAME)!;
    expect(plot.points[0]!.y - plot.points[1]!.y).toBeGreaterThan(40);
    expect(plot.bands[0]).toMatchObject({ top: expect.any(Number) });
  });

  it('draws the drift through the readings since hands were last on the machine', () => {
    const drift: Drift = {
      verdict: 'drifting',
      readings: 5,
      slope: { value: 0.3, low: 0.2, high: 0.4 },
      days_left: null,
    };
    const points = [point(1, 0.4), point(11, 0, { is_after_turns: true }), point(21, 0.1), point(31, 0.2)];
    const plot = layoutTrend(trend(points, drift), FRAME)!;
    expect(plot.drift!.x1).toBeCloseTo(plot.points[1]!.x, 9);
    expect(plot.drift!.y1).toBeCloseTo(plot.points[1]!.y, 6);
    expect(plot.drift!.y2).toBeCloseTo(plot.points[3]!.y, 6);
    expect(layoutTrend(trend(points), FRAME)!.drift).toBeNull();
  });

  it('marks the scales at round values and whole days, few enough to be read', () => {
    const plot = layoutTrend(trend([point(1, -0.2), point(31, 0.13)]), FRAME)!;
    expect(plot.values.length).toBeLessThanOrEqual(6);
    expect(plot.values.every(({ value }) => Math.abs(value * 10 - Math.round(value * 10)) < 1e-9)).toBe(true);
    expect(plot.days.length).toBeGreaterThanOrEqual(2);
    plot.days.slice(1).forEach(({ x }, i) => {
      expect(x - plot.days[i]!.x).toBeGreaterThanOrEqual(100);
    });
    for (const { day, x } of plot.days) {
      const share = (Date.parse(day) - Date.UTC(2026, 0, 1)) / (Date.UTC(2026, 0, 31) - Date.UTC(2026, 0, 1));
      const [first, last] = plot.points;
      expect(x).toBeCloseTo(first!.x + share * (last!.x - first!.x), 6);
      expect(x).toBeLessThanOrEqual(FRAME.width);
    }
    // Weeks lie too near to each other, months too far.
    const { days } = layoutTrend(trend([point(3, 0.1), point(76, 0.2)]), FRAME)!;
    days.slice(1).forEach(({ x }, i) => {
      expect(x - days[i]!.x).toBeGreaterThanOrEqual(100);
    });
    expect(layoutTrend(trend([point(5, 0.2)]), FRAME)!.days.map(({ day }) => day)).toEqual(['2026-01-05']);
  });
});
