import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { FigureBudget, MeasuredReading } from '../../src/record/reading.ts';
import {
  BUDGET_BASES,
  BUDGET_SOURCES,
  describeRemainder,
  describeUncancelled,
  formatAtMost,
  formatContribution,
  formatDegrees,
  formatLead,
  formatRepeatable,
  formatShare,
  isAmountNearZero,
  nameSource,
  suggestShrinking,
} from '../../src/wording/uncertainty.ts';
import { sampleReading } from '../report/sample-reading.ts';

const budgetOf = (shares: Readonly<Record<string, number>>, figure = 'vertical_offset_pct'): FigureBudget => ({
  figure,
  lines: Object.entries(shares)
    .map(([source, share_pct]) => ({
      source,
      basis: 'default',
      type: 'B' as const,
      u: 0.05 * Math.sqrt(share_pct / 100),
      share_pct,
      degrees_of_freedom: null,
      constant: source.startsWith('print'),
    }))
    .toSorted((a, b) => b.share_pct - a.share_pct),
  u: 0.05,
  u_repeat: 0.001,
  degrees_of_freedom: null,
  expanded_95: 0.098,
});

const readingWith = (change: Partial<MeasuredReading>): MeasuredReading => ({ ...sampleReading, ...change });

it('has words for every source of a budget that the geometry writes', () => {
  const program = readFileSync('src/geometry/misalignment-budget.ts', 'utf8');
  const written = [...program.matchAll(/(?:component|shiftComponent|one)\('([a-z-]+)'/g)].map((match) => match[1]!);
  expect(written.length).toBeGreaterThan(7);
  for (const code of [...written, 'rounding']) expect(BUDGET_SOURCES).toContain(code);
  for (const code of ['residuals', 'default', 'house', 'assumption', 'ghost', 'repeats', 'largest-value', 'display'])
    expect(BUDGET_BASES).toContain(code);
  expect(nameSource('of-a-newer-version')).toBe('of-a-newer-version');
});

describe('the one thing that would shrink an uncertainty most', () => {
  it.each([
    [{ 'film-jump': 60, marks: 40 }, /one photograph without glasses/],
    [{ 'film-weave': 60, marks: 40 }, /one photograph without glasses/],
    [{ 'filter-wedge': 60, marks: 40 }, /one photograph without glasses/],
    [{ movement: 60, marks: 40 }, /one photograph without glasses/],
    [{ 'print-eyes': 90, marks: 10 }, /print measured: right-eye picture against left-eye picture/],
    [{ 'print-marks': 90, marks: 10 }, /the position of each mark/],
    [{ marks: 60, 'print-eyes': 40 }, /^Repeat the photograph/],
    [{ repeats: 60, 'print-eyes': 40 }, /^Repeat the photograph/],
    [{ rounding: 100 }, /rounding/],
  ])('%j', (shares, words) => {
    expect(suggestShrinking(budgetOf(shares as Record<string, number>))).toMatch(words);
  });

  it('counts sources together that have the same remedy', () => {
    const shares = { 'print-eyes': 40, 'film-jump': 25, 'filter-wedge': 35 };
    expect(suggestShrinking(budgetOf(shares))).toMatch(/without glasses/);
  });

  it('says nothing of sources that it does not know', () => {
    expect(suggestShrinking(budgetOf({ 'of-a-newer-version': 100 }))).toBeNull();
  });

  it('names what leads', () => {
    expect(formatLead(budgetOf({ 'film-jump': 52.4, marks: 47.6 }))).toBe(
      'Vertical offset: 52 % of the variance comes from film jump.',
    );
    expect(formatLead(budgetOf({}))).toBeNull();
  });
});

describe('the remainder', () => {
  const remainderOf = (value: number, u: number) =>
    describeRemainder(
      readingWith({ misalignment: { ...sampleReading.misalignment, remainder_pct: { value, u, at: [1, 0.45] } } }),
    );

  it('stands with its reasons where it is clear of its uncertainty, as no matter of screws', () => {
    const found = remainderOf(0.0541, 0.0061)!;
    expect(found.isClear).toBe(true);
    expect(found.sentence).toBe('Remainder: 0.054 ± 0.012 %, largest in the picture’s upper right corner.');
    expect(found.reasons).toMatch(/projection lens.*mirror that is not flat.*It is not adjustable/);
  });

  it('is one line up to twice its uncertainty', () => {
    expect(remainderOf(0.012, 0.006)).toEqual({
      isClear: false,
      sentence: expect.stringMatching(/at most 0\.024 %/),
      reasons: null,
    });
    expect(remainderOf(0.0121, 0.006)!.isClear).toBe(true);
  });

  it('is not spoken of where nobody looked for it', () => {
    expect(describeRemainder(sampleReading)).toBeNull();
  });
});

describe('what was not cancelled', () => {
  const one = readingWith({ geometry_from: 'one-exposure', budget: [budgetOf({ marks: 20, 'print-eyes': 80 })] });
  const two = (shares: Record<string, number>) =>
    describeUncancelled(readingWith({ geometry_from: 'two-exposures', budget: [budgetOf(shares)] }));

  it('is the print alone in one exposure', () => {
    expect(describeUncancelled(one)).toMatch(/^Not cancelled: errors of the print\. /);
  });

  it('is the film’s turn as well, where the film moves', () => {
    const moving = readingWith({
      geometry_from: 'one-exposure',
      budget: [budgetOf({ 'film-turn': 60, 'print-eyes': 40 })],
    });
    expect(describeUncancelled(moving)).toMatch(
      /^Not cancelled: errors of the print, and the film’s turn in the gate \(horizontal offset\)\. /,
    );
  });

  it('is film, filter and the camera too in two', () => {
    expect(two({ marks: 20, 'film-jump': 80 })).toBe(
      'Not cancelled: errors of the print, film motion between the photographs, the wedge of the filter, and the camera’s own distortion.',
    );
  });

  it('is what the ghost could not tell where it was the ruler', () => {
    expect(two({ marks: 20, movement: 80 })).toMatch(/ghost does not show/);
    expect(two({ marks: 20, movement: 80 })).not.toMatch(/wedge/);
  });

  it('is no film motion where repeats have shown it', () => {
    expect(two({ repeats: 20, 'filter-wedge': 80 })).not.toMatch(/film motion/);
    expect(two({ repeats: 20, 'filter-wedge': 80 })).toMatch(/wedge/);
  });

  it('is not known of readings of older versions', () => {
    expect(describeUncancelled(sampleReading)).toBeNull();
  });
});

describe('figures of a budget', () => {
  it('rounds shares and degrees of freedom as the GUM does: downwards', () => {
    expect([formatShare(0.2), formatShare(99.6), formatShare(12.4)]).toEqual(['< 1', '100', '12']);
    expect([null, 6e9, 16.9, 0.7].map(formatDegrees)).toEqual(['∞', '∞', '16', '1']);
  });

  it('never shows a contribution as nothing', () => {
    expect(formatContribution(0.00004, 4)).toBe('< 0.0001');
    expect(formatContribution(0.0564, 4)).toBe('0.056');
  });

  it('gives the repeatable part its own two figures', () => {
    expect(formatRepeatable(0.000132)).toBe('± 0.00026 repeatable');
  });

  it('states an amount near zero by what it is at most', () => {
    expect(isAmountNearZero('worst_vertical_pct', 0.01, 0.056)).toBe(true);
    expect(isAmountNearZero('worst_vertical_pct', 0.2, 0.056)).toBe(false);
    expect(isAmountNearZero('vertical_offset_pct', 0.01, 0.056)).toBe(false);
    expect(formatAtMost(0.01, 0.056)).toBe('at most 0.12');
  });
});
