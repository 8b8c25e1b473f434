import { describe, expect, it } from 'vitest';
import { compareEntries } from '../../src/logbook/compare-entries.ts';
import type { Comparison } from '../../src/record/comparison.ts';
import { ENTRY_SCHEMA, entrySchema, type Entry } from '../../src/record/entry.ts';
import { readFileSync } from 'node:fs';
import { createRandom } from '../../src/kernel/random.ts';
import type { Measured } from '../../src/kernel/measured.ts';
import type { MeasuredReading } from '../../src/record/reading.ts';
import { sampleReading, sampleRefusal } from '../report/sample-reading.ts';
import { withTerms } from './make-logbook.ts';

const sample: Entry = entrySchema.parse({
  ...JSON.parse(readFileSync('tests/record/golden/entry-1.json', 'utf8')),
  schema: ENTRY_SCHEMA,
});
const before = { id: 'a1'.repeat(32), entry: { ...sample, reading: sampleReading as Entry['reading'], follows: null } };
const after = (change: Partial<MeasuredReading>, own: Partial<Entry> = {}) => ({
  id: 'b2'.repeat(32),
  entry: { ...sample, follows: before.id, reading: { ...sampleReading, ...change }, ...own } as Entry,
});
const compare = (...given: Parameters<typeof after>) => compareEntries(before, after(...given)) as Comparison;
const termOf = (comparison: Comparison, field: string) => comparison.terms.find((term) => term.field === field)!;

/** The sample with other figures of the terms and the worst place. */
function withDoubts(measure: (value: number) => { value: number; u: number; u_repeat: number }): MeasuredReading {
  const told = Object.entries(sampleReading.misalignment as Record<string, Measured>).map(([field, old]) => [
    field,
    { ...old, ...measure(old.value) },
  ]);
  return { ...sampleReading, misalignment: Object.fromEntries(told) };
}

describe('before and after', () => {
  it('has each change with the uncertainty of the difference', () => {
    const term = termOf(
      compare(withTerms({ vertical_offset_pct: 0.012, worst_vertical_pct: 0.1 })),
      'vertical_offset_pct',
    );
    expect(term.change.value).toBeCloseTo(-0.4, 12);
    expect(term.change.u).toBeCloseTo(0.0011 * Math.SQRT2, 12);
    expect(term).toMatchObject({ isSignificant: true, verdict: 'better' });
  });

  it('finds nothing in two readings that are the same', () => {
    const same = compare({});
    expect(same.verdict).toBe('no-significant-change');
    expect(same.terms.every(({ isSignificant, chance }) => !isSignificant && chance === 1)).toBe(true);
    expect(same.doubts).toEqual([]);
  });

  it('does not call better what lies as far on the other side of zero', () => {
    expect(termOf(compare(withTerms({ vertical_offset_pct: -0.412 })), 'vertical_offset_pct')).toMatchObject({
      isSignificant: true,
      verdict: 'same',
    });
  });

  it('calls a change that is sure, and a fiftieth of its limit, neither better nor worse', () => {
    const comparison = compare(withTerms({ worst_vertical_pct: 0.495, vertical_offset_pct: 0.42 }));
    expect(termOf(comparison, 'vertical_offset_pct')).toMatchObject({ isSignificant: true, verdict: 'minor' });
    expect(comparison.verdict).toBe('no-significant-change');
  });

  it('tells improved from worsened and mixed', () => {
    expect(compare(withTerms({ worst_vertical_pct: 0.1 })).verdict).toBe('improved');
    expect(compare(withTerms({ worst_vertical_pct: 0.9 })).verdict).toBe('worsened');
    expect(compare(withTerms({ worst_vertical_pct: 0.1, size_pct: 0.5 })).verdict).toBe('mixed');
    // Larger than before, but still far inside its limit of 0.5 %.
    expect(compare(withTerms({ worst_vertical_pct: 0.1, size_pct: 0.2 })).verdict).toBe('improved');
  });

  it('shares the level of 5 % among all terms: noise alone is called a change in at most one pair of twenty', () => {
    const random = createRandom(5);
    const noisy = () =>
      withTerms(
        Object.fromEntries(
          Object.entries(sampleReading.misalignment as Record<string, Measured>).map(([field, { value, u }]) => [
            field,
            value + u * random.normal(),
          ]),
        ),
      );
    let changes = 0;
    for (let pair = 0; pair < 400; pair++) {
      const first = {
        ...before,
        entry: { ...before.entry, reading: { ...sampleReading, ...noisy() } as Entry['reading'] },
      };
      const compared = compareEntries(first, after(noisy())) as Comparison;
      if (compared.verdict !== 'no-significant-change' || compared.terms.some(({ isSignificant }) => isSignificant))
        changes++;
    }
    expect(changes / 400).toBeLessThan(0.075);
    expect(changes).toBeGreaterThan(2);
  });

  it('does not call an untouched machine worse whose film moved between two readings', () => {
    const random = createRandom(11);
    // As a pair measures on running film: the print stays (u), film and marks are thrown anew (u_repeat).
    const [u, u_repeat, print] = [0.0583, 0.03, 0.05];
    const readAgain = () => {
      const moved = u_repeat * random.normal();
      return withDoubts((value) => ({ value: value + moved, u, u_repeat }));
    };
    const compareTwo = () => {
      const was = { ...before, entry: { ...before.entry, reading: readAgain() as Entry['reading'] } };
      return compareEntries(was, after(readAgain())) as Comparison;
    };
    const pairs = Array.from({ length: 200 }, compareTwo);
    const worse = pairs.filter(({ verdict }) => verdict === 'worsened').length;
    expect(worse / pairs.length).toBeLessThan(0.05);
    for (const pair of pairs)
      expect(termOf(pair, 'vertical_offset_pct').change.u).toBeCloseTo(u_repeat * Math.SQRT2, 12);

    // With the marks' own scatter as the uncertainty, which knows nothing of film, most of them would be.
    expect(Math.hypot(u_repeat, print)).toBeCloseTo(u, 3);
    const blind = Array.from({ length: 200 }, () => {
      const [first, second] = [readAgain(), readAgain()].map(({ misalignment }) => ({
        ...sampleReading,
        misalignment: Object.fromEntries(
          Object.entries(misalignment).map(([field, measured]) => [field, { ...measured, u_repeat: 0.0001 }]),
        ),
      }));
      const was = { ...before, entry: { ...before.entry, reading: first as Entry['reading'] } };
      return compareEntries(was, after(second as MeasuredReading)) as Comparison;
    });
    const certain = blind.filter(({ terms }) => terms.some(({ isSignificant }) => isSignificant));
    expect(certain.length / blind.length).toBeGreaterThan(0.8);
  });

  it('counts the print of another roll again: its errors are others', () => {
    const reading = withDoubts((value) => ({ value, u: 0.05, u_repeat: 0.001 }));
    const was = { ...before, entry: { ...before.entry, reading: reading as Entry['reading'] } };
    const onPrint = (print: string) => compareEntries(was, after(reading, { print })) as Comparison;
    const uOf = (comparison: Comparison) => termOf(comparison, 'vertical_offset_pct').change.u;
    expect(uOf(onPrint(before.entry.print!))).toBeCloseTo(0.001 * Math.SQRT2, 12);
    expect(uOf(onPrint('another print'))).toBeCloseTo(0.05 * Math.SQRT2, 12);
  });

  it('says what makes a comparison doubtful', () => {
    const { doubts } = compare(
      { software: { name: 'twinplumb', version: '9' } },
      { follows: null, saved_at: '2020-01-01T00:00:00Z', house: { ...sample.house!, name: 'Another' } },
    );
    expect(doubts).toEqual(['other-house', 'other-version', 'not-linked', 'in-time-reversed']);
  });

  it('cannot be where one of the two is a refusal', () => {
    expect(compareEntries(before, after({}, { reading: sampleRefusal }))).toEqual({
      outcome: 'not-measured',
      id: 'b2'.repeat(32),
    });
  });
});
