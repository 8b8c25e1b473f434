import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/record/entry.ts';
import { readWordedEntry } from '../../src/logbook/read-record.ts';
import { entrySummary, summariseEntry, TREND_FIELDS } from '../../src/record/entry-summary.ts';
import { readFileSync } from 'node:fs';
import { sampleReading, sampleRefusal } from '../report/sample-reading.ts';

const read = readWordedEntry(JSON.parse(readFileSync('tests/record/golden/entry-1.json', 'utf8')));
const entry = (read.outcome === 'read' ? read.record : undefined) as Entry;
const id = 'ab'.repeat(32);

describe('an entry in short', () => {
  it('has every figure with its uncertainty, and goes through the schema of the index', () => {
    const summary = summariseEntry(id, entry);
    expect(summary.verdict).toBe('outside');
    expect(Object.keys(summary.terms)).toEqual(TREND_FIELDS);
    expect(summary.terms.vertical_offset_pct).toEqual(sampleReading.misalignment.vertical_offset_pct);
    expect(summary.terms.crosstalk_right_pct).toEqual({ value: 1.04, u: 0.04 });
    expect(entrySummary.parse(JSON.parse(JSON.stringify(summary)))).toEqual(summary);
  });

  it('of a refusal has its message, no figures and no verdict', () => {
    const summary = summariseEntry(id, { ...entry, reading: sampleRefusal, replaces: { entry: id, reason: 'x' } });
    expect(summary).toMatchObject({
      outcome: 'refused',
      verdict: null,
      terms: {},
      limits: {},
      sentence: sampleRefusal.refusal.message,
      replaces: id,
    });
  });
});
