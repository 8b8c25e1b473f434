/** `logbook trends`: each figure over time, whether it drifts, and what leaves its limits soon. */
import { listTrends } from '../../../logbook/list-trends.ts';
import type { Trend } from '../../../record/trend.ts';
import { renderTrendsCsv } from '../../../report/csv/trends-csv.ts';
import type { Paper } from '../../../report/html/document.ts';
import { renderTrendsReport } from '../../../report/html/trends-report.ts';
import { nameField } from '../../../wording/name-field.ts';
import { formatSigned } from '../../../wording/numbers.ts';
import { DRIFT_METHOD, formatDrift } from '../../../wording/trends.ts';
import { EXIT, type ExitStatus } from '../exit-status.ts';
import { writeDocument } from '../write-document.ts';
import { type SearchOrder, searchFor } from './list-entries.ts';
import type { CommandWorld } from './open-for-command.ts';

export interface TrendsOrder extends SearchOrder {
  readonly horizon: number;
  readonly report?: string;
  readonly paper?: Paper;
}

export async function showTrends(order: TrendsOrder, world: CommandWorld): Promise<ExitStatus> {
  const entries = await searchFor(order, world);
  const trends = listTrends(entries, order.horizon);
  const { print, remark } = world.terminal;
  const houses = new Set(entries.map(({ house }) => house));
  if (houses.size > 1) remark(`These are entries of ${houses.size} houses; choose one with --house.\n`);
  if (order.csv) print(renderTrendsCsv(trends));
  else if (order.json) print(trends.map((trend) => `${JSON.stringify(trend)}\n`).join(''));
  else print(`${trends.map(renderTrend).join('')}\n${DRIFT_METHOD}\n`.replaceAll('−', '-'));
  if (order.report !== undefined) {
    const html = renderTrendsReport({
      trends,
      houses: [...houses].filter((house) => house !== null),
      at: new Date().toISOString(),
      softwareVersion: world.software.version,
      paper: order.paper,
    });
    await writeDocument(order.report, html);
    remark(`Report written to ${order.report}\n`);
  }
  return EXIT.measured;
}

function renderTrend({ field, points, drift }: Trend): string {
  const last = points.at(-1);
  const now = last === undefined ? 'none' : formatSigned(last.value, 3);
  return `${nameField(field).padEnd(28)}${String(points.length).padStart(4)} readings, last ${now.padStart(8)}   ${formatDrift(drift)}\n`;
}
