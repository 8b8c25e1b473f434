import { describe, expect, it } from 'vitest';
import { createRandom } from '../../../src/kernel/random.ts';
import { findDrift } from '../../../src/application/trends/find-drift.ts';

const limits = { low: -1, high: 1 };
const line = (n: number, perDay: number, start = 0) =>
  Array.from({ length: n }, (_, i) => ({ day: 10 * i, value: start + perDay * 10 * i }));

describe('drift', () => {
  it('needs five readings at different times', () => {
    expect(findDrift(line(4, 1), limits).verdict).toBe('too-few');
    expect(findDrift(Array(9).fill({ day: 1, value: 2 }), limits).verdict).toBe('too-few');
    const inOneEvening = line(9, 0.01).map(({ day, value }) => ({ day: day / 240, value }));
    expect(findDrift(inOneEvening, limits)).toMatchObject({ verdict: 'too-few', slope: null, days_left: null });
  });

  it('of an exact line is its slope, and days until the limit follow', () => {
    const drift = findDrift(line(6, 0.01), limits);
    expect(drift.slope!.value).toBeCloseTo(0.3, 12);
    expect(drift.days_left).toBeCloseTo(50, 9);
    expect(drift.verdict).toBe('alarm');
    expect(findDrift(line(6, 0.01), limits, 30).verdict).toBe('drifting');
    expect(findDrift(line(6, -0.01), limits).days_left).toBeCloseTo(50, 9);
  });

  it('beyond the limits has no days left, and without a limit no end', () => {
    expect(findDrift(line(6, 0.001, 2), limits)).toMatchObject({ verdict: 'alarm', days_left: 0 });
    expect(findDrift(line(6, 0.01), undefined)).toMatchObject({ verdict: 'drifting', days_left: null });
    expect(findDrift(line(6, -0.01), { low: null, high: 1 })).toMatchObject({ verdict: 'drifting', days_left: null });
  });

  it('is not moved by a few bad readings', () => {
    const points = line(15, 0.002).map((point, i) => (i === 4 || i === 11 ? { ...point, value: 50 } : point));
    const { slope, verdict } = findDrift(points, limits);
    expect(slope!.value).toBeCloseTo(0.06, 2);
    expect(verdict).not.toBe('steady');
  });

  it('is seen in noise alone in about one row of twenty, and its interval holds the truth in about nineteen', () => {
    const random = createRandom(11);
    let alarms = 0;
    let held = 0;
    const rows = 600;
    for (let row = 0; row < rows; row++) {
      const still = Array.from({ length: 12 }, (_, i) => ({ day: 7 * i + random.uniform(), value: random.normal() }));
      if (findDrift(still, undefined).verdict !== 'steady') alarms++;
      const moving = still.map(({ day, value }) => ({ day, value: value + 0.02 * day }));
      const { low, high } = findDrift(moving, undefined).slope!;
      if (low <= 0.6 && high >= 0.6) held++;
    }
    // Binomial, 600 at 5 %: standard deviation 0.9 %. Sen's interval is approximate at twelve readings.
    expect(alarms / rows).toBeGreaterThan(0.02);
    expect(alarms / rows).toBeLessThan(0.08);
    expect(held / rows).toBeGreaterThan(0.92);
  });
});
