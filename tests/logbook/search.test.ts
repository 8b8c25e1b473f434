import { describe, expect, it } from 'vitest';
import { searchEntries } from '../../src/logbook/search.ts';
import type { EntrySummary } from '../../src/record/entry-summary.ts';

const entry = (own: Partial<EntrySummary> & { id: string }): EntrySummary => ({
  saved_at: '2026-03-14T18:00:00+00:00',
  operator: null,
  print: null,
  reel: null,
  note: null,
  house: 'The Meridian',
  outcome: 'measured',
  sentence: 'Right-eye picture is 0.41 % too high.',
  verdict: 'outside',
  version: '1',
  follows: null,
  replaces: null,
  has_turns: false,
  photographs: [],
  roles: [],
  terms: {},
  limits: {},
  ...own,
});
const all = [
  entry({ id: 'a', saved_at: '2026-03-14T23:30:00-02:00', print: 'Café Noir', verdict: 'within' }),
  entry({ id: 'b', saved_at: '2026-03-14T23:59:59+00:00', print: 'The Long Reel', note: 'Lamp changed' }),
  entry({ id: 'c', saved_at: '2026-01-02T10:00:00+01:00', house: null, outcome: 'refused', verdict: null }),
  entry({ id: 'd', saved_at: '2026-01-03T10:00:00+01:00', replaces: 'c' }),
];
const found = (query: Parameters<typeof searchEntries>[1]) =>
  searchEntries(all, query, (id) => (id === 'a' ? ['the screw was loose'] : []))
    .map(({ id }) => id)
    .join('');

describe('a search', () => {
  it.each([
    ['everything, newest first by the moment and not by the wall', {}, 'abd'],
    ['what was corrected, when asked for', { withReplaced: true }, 'abdc'],
    ['a part of a name in any case of letters', { house: 'meri' }, 'abd'],
    ['a name without its accents', { print: 'cafe' }, 'a'],
    ['a name with them', { print: 'CAFE\u0301' }, 'a'],
    ['a verdict', { verdict: 'within' }, 'a'],
    ['a day of universal time, both ends included', { from: '2026-03-14', to: '2026-03-14' }, 'b'],
    ['a moment', { from: '2026-03-15T01:30:00Z' }, 'a'],
    ['all words, wherever they stand', { text: 'lamp LONG' }, 'b'],
    ['words of a note that was added later', { text: 'screw' }, 'a'],
    ['the sentence', { text: '0.41' }, 'abd'],
    ['what nobody wrote', { text: 'zebra' }, ''],
    ['no words at all', { text: '  ' }, 'abd'],
  ] as const)('finds %s', (_what, query, ids) => {
    expect(found(query)).toBe(ids);
  });

  it('does not take for a date what is none', () => {
    expect(() => found({ from: 'yesterday' })).toThrow(RangeError);
  });
});
