/** Entries in short as a table for spreadsheets: one row each, every figure with its standard uncertainty beside it. */
import { type EntrySummary, TREND_FIELDS } from '../../record/entry-summary.ts';
import { type Cell, renderCsv } from './render-csv.ts';

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
