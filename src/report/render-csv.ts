import { TREND_FIELDS, type EntrySummary } from '../record/entry-summary.ts';
import type { Trend } from '../record/trend.ts';

/**
 * Rows as comma-separated values, RFC 4180. A text that a spreadsheet would take for a formula gets an apostrophe before
 * it, which spreadsheets do not show; numbers are written as they are, with a point.
 */
export type Cell = string | number | null;

export function renderCsv(head: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return [head, ...rows].map((row) => `${row.map(renderCell).join(',')}\r\n`).join('');
}

function renderCell(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  const text = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
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
