/** Reports of the logbook: an entry, before and after, trends; and the pages that they make. */
import { describe, expect, it } from 'vitest';
import { compareEntries } from '../../../src/logbook/compare-entries.ts';
import type { Entry } from '../../../src/record/entry.ts';
import type { Trend } from '../../../src/record/trend.ts';
import { renderComparisonReport } from '../../../src/report/html/comparison-report.tsx';
import { renderDocument } from '../../../src/report/html/document.tsx';
import type { KeptEntry } from '../../../src/report/html/kept-facts.tsx';
import { renderHtmlReport } from '../../../src/report/html/render-html.tsx';
import { renderTrendsReport } from '../../../src/report/html/trends-report.tsx';
import { formatMoment } from '../../../src/wording/date-time.ts';
import { translateReading } from '../../../src/wording/reading.ts';
import { composeTrendsTitle } from '../../../src/wording/comparison.ts';
import { meridian } from '../../logbook/make-logbook.ts';
import { sampleReading } from '../sample-reading.ts';

const reading = translateReading(sampleReading);

const kept = (id: string, change: Partial<Entry> = {}): KeptEntry => ({
  id: id.repeat(32),
  entry: {
    schema: 'twinplumb.entry/2',
    saved_at: '2026-03-14T18:26:53.000+01:00',
    zone: 'Europe/Vienna',
    operator: 'Ann <b>',
    print: 'The Long Reel',
    reel: '1',
    note: null,
    house: meridian,
    shots: [{ role: 'left-lens', name: 'left.jpg', sha256: 'aa'.repeat(32), bytes: 12, ending: 'jpg' }],
    reading,
    turns_made: [],
    software: { name: 'twinplumb', version: '1.2.3' },
    parameters: { aspect: null, wander_px: null },
    replaces: null,
    follows: null,
    ...change,
  },
  additions: [],
  replacedBy: [],
  followedBy: [],
});

describe('a document', () => {
  it('has a head, a foot and a number on every page, and no string ends before its end', () => {
    const title = 'x';
    const running = { left: '"; } body { display: none } </style><script>', right: 'é …\n', foot: '\\' };
    const html = renderDocument({ title, body: 'x', paper: 'letter', running });
    expect(html).toContain('size: letter');
    expect(html).toContain('counter(page) " of " counter(pages)');
    expect(html.match(/<\/style>/g)).toHaveLength(1);
    expect(html).not.toContain('<script');
    expect(html).not.toContain('display: none }');
    expect(html).toContain('\\e9 ');
  });
});

describe('the report of an entry', () => {
  it('says who kept it, when, of what, and what it is linked with', () => {
    const entry = kept('ab', { follows: 'cd'.repeat(32), note: 'as left' });
    const addition = {
      schema: 'twinplumb.addition/1',
      saved_at: '2026-04-01T09:00:00Z',
      zone: null,
      entry: entry.id,
    } as const;
    const additions = [{ id: 'ef'.repeat(32), addition: { ...addition, by: 'Bea', note: 'dust', photographs: [] } }];
    const html = renderHtmlReport(reading, undefined, { kept: { ...entry, additions } });
    for (const part of [entry.id, 'Ann &lt;b&gt;', 'The Long Reel, reel 1', 'cd'.repeat(32), 'as left', 'Bea', 'dust'])
      expect(html).toContain(part);
    expect(html).toContain('2026-03-14 18:26:53, UTC+01:00');
    expect(renderHtmlReport(reading)).not.toContain('In the logbook');
  });
});

describe('before and after', () => {
  it('leads with the sentence and gives every figure with its uncertainty, limits, method and cautions', () => {
    const [before, after] = [kept('ab'), kept('cd', { follows: 'ab'.repeat(32) })];
    const compared = compareEntries(before, after);
    if (compared.outcome !== 'compared') throw new Error('not measured');
    const html = renderComparisonReport({
      comparison: compared,
      before: { kept: before, pictures: undefined },
      after: { kept: after, pictures: undefined },
      paper: 'a4',
    });
    expect(html).toContain('<h1>No change that matters.</h1>');
    expect(html.match(/<th scope="row">/g)!.length).toBeGreaterThan(11);
    for (const room of ['Name', 'Date', 'Signature']) expect(html).toContain(`<p>${room}</p>`);
    for (const part of ['Vertical offset, %', 'Ghost, left eye, %', 'Limits in force', 'Method', 'Safety', 'Holm'])
      expect(html).toContain(part);
    expect(html).not.toMatch(/https?:|<script|url\(/);
  });
});

it('before and after have arrows at one scale, the time of measuring, names of adjustments, universal time said once', () => {
  const [was, is] = [
    kept('ab'),
    kept('cd', { follows: 'ab'.repeat(32), zone: 'UTC', saved_at: '2026-03-15T08:00:00Z' }),
  ];
  const far = sampleReading.evidence.field.map((point) => ({ ...point, dy_pct: 30 * point.dy_pct }));
  const worse = { ...sampleReading, evidence: { ...sampleReading.evidence, field: far } };
  const before = { ...was, entry: { ...was.entry, reading: worse as typeof was.entry.reading } };
  const turns_made = [{ adjustment: 'upper-screw', direction: 'clockwise' as const, turns: 0.125 }];
  const reading = { ...is.entry.reading, measured_at: '2026-03-14T22:10:00Z' } as typeof is.entry.reading;
  const after = { ...is, entry: { ...is.entry, reading, turns_made } };
  const comparison = compareEntries(before, after);
  if (comparison.outcome !== 'compared') throw new Error('not measured');
  const html = renderComparisonReport({
    comparison,
    before: { kept: before, pictures: undefined },
    after: { kept: after, pictures: undefined },
  });
  const factors = [...html.matchAll(/arrows ([\d.]+) times as long as/g)].map(([, factor]) => factor);
  expect(factors).toHaveLength(2);
  expect(new Set(factors).size).toBe(1);
  expect(html).toContain('<span>2026-03-14 22:10:00 UTC</span>');
  expect(html).toContain('Upper screw, 1/8 turn clockwise');
  expect(html).not.toContain('UTC (UTC)');
});

describe('trends', () => {
  const point = { id: 'ab'.repeat(32), saved_at: '2026-03-14T18:00:00Z', value: 0.2, u: 0.01, is_after_turns: false };
  const drift = { readings: 6, slope: { value: 0.1, low: 0.05, high: 0.2 }, days_left: 10 } as const;
  const trend = (field: Trend['field'], verdict: Trend['drift']['verdict']): Trend => ({
    field,
    points: [{ ...point, limits: { low: -0.1, high: 0.1 } }],
    drift: { ...drift, verdict },
  });

  it('names alarms first, by word, and draws what is outside as another shape', () => {
    const trends = [trend('rotation_deg', 'alarm'), trend('size_pct', 'drifting'), trend('shear_pct', 'steady')];
    expect(composeTrendsTitle(trends)).toBe('Alarm: rotation.');
    expect(composeTrendsTitle(trends.slice(1))).toMatch(/^Drifting.*: size\.$/);
    expect(composeTrendsTitle(trends.slice(2))).toBe('No drift.');
    const html = renderTrendsReport({ trends, houses: ['A', 'B'], at: '2026-03-15T00:00:00Z', softwareVersion: '1' });
    expect(html.match(/<svg class="trend"/g)).toHaveLength(3);
    expect(html).toContain('ALARM');
    expect(html).toContain('entries of 2 houses');
    expect(html).toContain('<rect x="64" ');
  });
});

it('writes moments as the wall had them', () => {
  expect(formatMoment('2026-03-14T18:26:53.123+01:00')).toBe('2026-03-14 18:26:53, UTC+01:00');
  expect(formatMoment('2026-03-14T18:26:53Z')).toBe('2026-03-14 18:26:53 UTC');
  expect(formatMoment('2026-03-14T18:26:53-05:00')).toBe('2026-03-14 18:26:53, UTC−05:00');
  expect(formatMoment('yesterday')).toBe('yesterday');
});
