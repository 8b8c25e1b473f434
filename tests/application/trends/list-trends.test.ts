import { describe, expect, it } from 'vitest';
import { listTrends } from '../../../src/application/trends/list-trends.ts';
import type { EntrySummary } from '../../../src/record/entry-summary.ts';

const entry = (n: number, value: number, own: Partial<EntrySummary> = {}): EntrySummary => ({
  id: String(n),
  saved_at: new Date(Date.UTC(2026, 0, 1 + 10 * n)).toISOString(),
  operator: null,
  print: null,
  reel: null,
  note: null,
  house: null,
  outcome: 'measured',
  sentence: '',
  verdict: 'within',
  version: '1',
  follows: null,
  replaces: null,
  has_turns: false,
  photographs: [],
  roles: [],
  terms: { size_pct: { value, u: 0.01 } },
  limits: { size_pct: { low: -0.5, high: 0.5 } },
  ...own,
});
const trendOf = (entries: EntrySummary[]) => listTrends({ entries }).find(({ field }) => field === 'size_pct')!;

describe('a trend', () => {
  it('has the readings oldest first, with the limits in force', () => {
    const { points } = trendOf([entry(2, 0.3), entry(1, 0.1), entry(3, 0, { outcome: 'refused', terms: {} })]);
    expect(points.map(({ value }) => value)).toEqual([0.1, 0.3]);
    expect(points[0]!.limits).toEqual({ low: -0.5, high: 0.5 });
  });

  it('of a machine that stands still shows no drift, though hands moved it', () => {
    const byHand = (n: number) => (n === 0 ? {} : { follows: String(n - 1), has_turns: true });
    const rows = (own: (n: number) => Partial<EntrySummary>) =>
      Array.from({ length: 8 }, (_, n) => entry(n, 0.4 - n / 32, own(n)));
    expect(trendOf(rows(byHand)).drift).toMatchObject({ verdict: 'steady', slope: { value: 0 } });
    expect(trendOf(rows(byHand)).points[3]!.is_after_turns).toBe(true);
    // The same row without anybody's hands is a drift.
    expect(trendOf(rows(() => ({}))).drift.verdict).not.toBe('steady');
  });

  it('of a machine that drifts shows it, though hands set it back each time', () => {
    const entries: EntrySummary[] = [];
    for (let n = 0; n < 6; n++) {
      entries.push(
        entry(2 * n, 0.1),
        entry(2 * n + 0.01, 0, { id: `${n}-after`, follows: String(2 * n), has_turns: true }),
      );
    }
    const { drift } = trendOf(entries);
    // 0.1 in twenty days.
    expect(drift.slope!.value).toBeCloseTo(0.15, 2);
    // It stands at zero now: the limit of 0.5 is a hundred days away.
    expect(drift.days_left).toBeGreaterThan(85);
    expect(drift.days_left).toBeLessThan(110);
  });
});
