/** `logbook trends`: each figure over time, whether it drifts, and what leaves its limits soon. */
import { listTrends, type Trend } from '../../../logbook/list-trends.ts';
import { renderCsv } from '../../../report/csv/render-csv.ts';
import { formatFigures, formatSigned } from '../../../report/wording/numbers.ts';
import { EXIT, type ExitStatus } from '../exit-status.ts';
import { type SearchOrder, searchFor } from './list-entries.ts';
import { nameField } from './name-field.ts';
import type { CommandWorld } from './open-for-command.ts';

export interface TrendsOrder extends SearchOrder {
  readonly horizon: number;
}

export async function showTrends(order: TrendsOrder, world: CommandWorld): Promise<ExitStatus> {
  const entries = await searchFor(order, world);
  const trends = listTrends(entries, order.horizon);
  const { print, remark } = world.terminal;
  const houses = new Set(entries.map(({ house }) => house));
  if (houses.size > 1) remark(`These are entries of ${houses.size} houses; choose one with --house.\n`);
  if (order.csv) print(renderTrendsCsv(trends));
  else if (order.json) print(trends.map((trend) => `${JSON.stringify(trend)}\n`).join(''));
  else
    print(
      `${trends.map(renderTrend).join('')}\nDrift: median of all pair slopes with its 95 % interval, turns made taken out.\n`.replaceAll(
        '−',
        '-',
      ),
    );
  return EXIT.measured;
}

function renderTrend({ field, points, drift }: Trend): string {
  const last = points.at(-1);
  const now = last === undefined ? 'none' : formatSigned(last.value, 3);
  return `${nameField(field).padEnd(28)}${String(points.length).padStart(4)} readings, last ${now.padStart(8)}   ${wordDrift(drift)}\n`;
}

function wordDrift({ verdict, slope, days_left }: Trend['drift']): string {
  if (slope === null) return 'too few readings for a drift';
  const range = `${formatSigned(slope.value, 4)} in 30 days (${formatSigned(slope.low, 4)} to ${formatSigned(slope.high, 4)})`;
  if (verdict === 'steady') return `steady: ${range}`;
  if (days_left === null) return `drifting: ${range}`;
  const when = days_left === 0 ? 'outside its limits' : `outside its limits in ${formatFigures(days_left)} days`;
  return `${verdict === 'alarm' ? 'ALARM' : 'drifting'}: ${range}, ${when}`;
}

function renderTrendsCsv(trends: readonly Trend[]): string {
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
