/** What a row of readings tells, in words. */
import type { Drift } from '../record/trend.ts';
import { formatFigures, formatSigned } from './numbers.ts';

export const DRIFT_METHOD = 'Drift: median of all pair slopes with its 95 % interval, turns made taken out.';

const WORDS: Readonly<Record<Drift['verdict'], string>> = {
  'too-few': 'too few readings, or too close together, for a drift',
  steady: 'steady',
  drifting: 'drifting',
  alarm: 'ALARM',
};

export const nameDrift = ({ verdict }: Drift): string => WORDS[verdict];

/** "+0.0120 in 30 days (+0.0080 to +0.0150)"; empty with too few readings. */
export function formatSlope({ slope }: Drift): string {
  if (slope === null) return '';
  return `${formatSigned(slope.value, 4)} in 30 days (${formatSigned(slope.low, 4)} to ${formatSigned(slope.high, 4)})`;
}

/** "outside its limits in 41 days"; empty where that is not to be expected. */
export function formatDaysLeft({ verdict, days_left }: Drift): string {
  if (verdict === 'steady' || days_left === null) return '';
  return days_left === 0 ? 'outside its limits' : `outside its limits in ${formatFigures(days_left)} days`;
}

export function formatDrift(drift: Drift): string {
  if (drift.slope === null) return nameDrift(drift);
  const left = formatDaysLeft(drift);
  return `${nameDrift(drift)}: ${formatSlope(drift)}${left && `, ${left}`}`;
}
