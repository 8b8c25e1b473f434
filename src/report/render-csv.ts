import { TREND_FIELDS, type EntrySummary } from '../record/entry-summary.ts';
import { judgeOverall } from '../record/judge-reading.ts';
import type { Reading } from '../record/reading.ts';
import { REPORTED_FIELDS } from '../record/term-fields.ts';
import type { Trend } from '../record/trend.ts';
import { makeSafe } from '../wording/make-safe.ts';

/** Rows as comma-separated values, RFC 4180; numbers are written as they are, with a point. */
export type Cell = string | number | null;

export function renderCsv(head: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return [head, ...rows].map((row) => `${row.map(renderCell).join(',')}\r\n`).join('');
}

function renderCell(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  return makeSafe(cell, 'cell');
}

/** Entries in short as a table for spreadsheets: one row each, every figure with its standard uncertainty beside it. */
export function renderEntriesCsv(entries: readonly EntrySummary[]): string {
  const facts = [
    'id',
    'saved_at',
    'house',
    'print',
    'reel',
    'operator',
    'verdict',
    'sentence',
    'note',
    'follows',
    'replaces',
    'version',
  ] as const;
  const head = [...facts, ...TREND_FIELDS.flatMap((field) => [field, `${field}_u`])];
  return renderCsv(
    head,
    entries.map((entry): Cell[] => [
      ...facts.map((fact) => entry[fact]),
      ...TREND_FIELDS.flatMap((field) => [entry.terms[field]?.value ?? null, entry.terms[field]?.u ?? null]),
    ]),
  );
}

/** Trends as a table for spreadsheets: one row for each figure of each entry, with the limits that were in force then. */
export function renderTrendsCsv(trends: readonly Trend[]): string {
  return renderCsv(
    ['field', 'saved_at', 'id', 'value', 'u', 'low', 'high', 'is_after_turns'],
    trends.flatMap(({ field, points }) =>
      points.map(({ saved_at, id, value, u, limits, is_after_turns }) => [
        field,
        saved_at,
        id,
        value,
        u,
        limits?.low ?? null,
        limits?.high ?? null,
        String(is_after_turns),
      ]),
    ),
  );
}

/** One result of a batch, as far as the table goes. */
export interface BatchRow {
  readonly set: string;
  readonly outcome: string;
  readonly seconds: number;
  readonly reading?: Reading;
  readonly failure?: string;
}

/** A batch as a table: one row a set, every figure with its standard uncertainty beside it; what was refused says why. */
export function renderBatchCsv(rows: readonly BatchRow[]): string {
  const ghosts = ['crosstalk_left_pct', 'crosstalk_right_pct'] as const;
  const figures = [...REPORTED_FIELDS, ...ghosts];
  return renderCsv(
    [
      'set',
      'outcome',
      'verdict',
      'eyes',
      ...figures.flatMap((figure) => [figure, `${figure}_u`]),
      'turns',
      'sentence',
      'code',
      'seconds',
    ],
    rows.map(({ set, outcome, seconds, reading, failure }): Cell[] => {
      if (reading?.outcome !== 'measured') {
        const why = reading ? reading.refusal.message : (failure ?? null);
        return [
          set,
          outcome,
          null,
          null,
          ...figures.flatMap(() => [null, null]),
          null,
          why,
          reading?.refusal.code ?? null,
          seconds,
        ];
      }
      const { misalignment, eyes, sentence, turns } = reading;
      const isSeen = eyes.assignment !== 'not-looked-at';
      return [
        set,
        outcome,
        judgeOverall(reading),
        eyes.assignment,
        ...REPORTED_FIELDS.flatMap((field) => [misalignment[field].value, misalignment[field].u]),
        ...ghosts.flatMap((ghost) => (isSeen ? [eyes[ghost].value, eyes[ghost].u] : [null, null])),
        turns.map(({ adjustment, direction, turns: amount }) => `${adjustment}:${direction}:${amount}`).join(' '),
        sentence,
        null,
        seconds,
      ];
    }),
  );
}
