import { describe, expect, it } from 'vitest';
import { drift, type Drift } from '../../src/record/trend.ts';
import { nameDrift, formatDaysLeft, formatDrift, formatSlope } from '../../src/wording/trends.ts';

const slope = { value: 0.012, low: 0.008, high: 0.015 };
const drifting: Drift = drift.parse({ verdict: 'drifting', readings: 9, slope, days_left: 121.4 });

describe('drifts in words', () => {
  it('tell the slope with its interval, and when limits are left', () => {
    expect(formatSlope(drifting)).toBe('+0.0120 in 30 days (+0.0080 to +0.0150)');
    expect(formatDrift(drifting)).toBe(
      'drifting: +0.0120 in 30 days (+0.0080 to +0.0150), outside its limits in 120 days',
    );
    expect(formatDaysLeft({ ...drifting, verdict: 'alarm', days_left: 0 })).toBe('outside its limits');
  });

  it('shout at an alarm alone', () => {
    const names = drift.shape.verdict.options.map((verdict) => nameDrift({ ...drifting, verdict }));
    expect(names.filter((name) => name === name.toUpperCase())).toEqual(['ALARM']);
  });

  it('say nothing of a slope with too few readings, and nothing of limits where all is steady', () => {
    expect(formatDrift({ verdict: 'too-few', readings: 2, slope: null, days_left: null })).toMatch(/^too few/);
    expect(formatDrift({ ...drifting, verdict: 'steady', days_left: 3 })).toBe(
      'steady: +0.0120 in 30 days (+0.0080 to +0.0150)',
    );
  });
});
