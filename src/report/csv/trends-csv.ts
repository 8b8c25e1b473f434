/** Trends as a table for spreadsheets: one row for each figure of each entry, with the limits that were in force then. */
import type { Trend } from '../../record/trend.ts';
import { renderCsv } from './render-csv.ts';

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
