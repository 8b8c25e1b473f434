/** Before and after in words: what changed, and what makes the comparison doubtful; what a row of readings tells. */
import type { Comparison, ComparisonDoubt, LightChange, StrayChange, TermChange } from '../record/comparison.ts';
import type { Drift, Trend } from '../record/trend.ts';
import { openTopic } from './catalogue.ts';
import messages from './en/comparison.json' with { type: 'json' };
import { decimalsForUncertainty, formatFigures, formatNumber, formatSigned } from './numbers.ts';
import { nameFigure } from './terms.ts';

const { translate } = openTopic(messages);

export function describeComparisonMethod(): string {
  return translate('method');
}

export function translateComparison({ verdict }: Comparison): string {
  return translate(`whole.${verdict}`);
}

export function formatDoubt(doubt: ComparisonDoubt): string {
  return translate(`doubt.${doubt}`);
}

export function translateChange({ isSignificant, verdict }: TermChange): string {
  return translate(isSignificant ? `change.${verdict}` : 'change.none');
}

/** "Stray copy above the left-eye picture: 2.1 % before, gone." */
export function formatStrayChange({ eye, side, before_pct, after_pct, verdict }: StrayChange): string {
  const before = formatFigures(before_pct?.value ?? 0);
  const after = formatFigures(after_pct?.value ?? 0);
  return translate('stray', { eye, side, before, after, verdict });
}

/** Whether a picture kept its light while a stray was masked. */
export function formatLightChange({ eye, kept_pct, against, verdict }: LightChange): string {
  if (!kept_pct) return translate('light.unknown', { eye });
  const decimals = decimalsForUncertainty(2 * kept_pct.u);
  const part = translate('light.part', {
    value: formatNumber(kept_pct.value, decimals),
    doubt: formatNumber(2 * kept_pct.u, decimals),
  });
  return translate('light', { eye, verdict, part, basis: translate('light.basis', { against }) });
}

/** All figures of a row with as many places as the uncertainty of the change deserves. */
export interface ChangeFigures {
  readonly before: string;
  readonly after: string;
  readonly change: string;
  /** 2 u. */
  readonly uncertainty: string;
}

export function formatChange({ before, after, change }: TermChange): ChangeFigures {
  const decimals = decimalsForUncertainty(2 * change.u);
  return {
    before: formatSigned(before.value, decimals),
    after: formatSigned(after.value, decimals),
    change: formatSigned(change.value, decimals),
    uncertainty: formatNumber(2 * change.u, decimals),
  };
}

export function describeDriftMethod(): string {
  return translate('drift.method');
}

export function nameDrift({ verdict }: Drift): string {
  return translate(`drift.${verdict}`);
}

/** "+0.0120 in 30 days (+0.0080 to +0.0150)"; empty with too few readings. */
export function formatSlope({ slope }: Drift): string {
  if (slope === null) return '';
  const [value, low, high] = [slope.value, slope.low, slope.high].map((each) => formatSigned(each, 4));
  return translate('slope', { value, low, high });
}

/** "outside its limits in 41 days"; empty where that is not to be expected. */
export function formatDaysLeft({ verdict, days_left }: Drift): string {
  if (verdict === 'steady' || days_left === null) return '';
  return translate('days-left', { days: formatFigures(days_left) });
}

export function formatDrift(drift: Drift): string {
  if (drift.slope === null) return nameDrift(drift);
  return translate('drift', {
    verdict: nameDrift(drift),
    slope: formatSlope(drift),
    left: formatDaysLeft(drift) || undefined,
  });
}

/** Alarms first, then drifts; one sentence. */
export function composeTrendsTitle(trends: readonly Trend[]): string {
  const named = (verdict: Trend['drift']['verdict']) =>
    trends.filter(({ drift }) => drift.verdict === verdict).map(({ field }) => nameFigure(field).toLowerCase());
  const [alarms, drifting] = [named('alarm'), named('drifting')];
  if (alarms.length > 0) return translate('trends.alarm', { terms: alarms.join('; ') });
  if (drifting.length > 0) return translate('trends.drifting', { terms: drifting.join('; ') });
  if (trends.every(({ drift }) => drift.verdict === 'too-few')) return translate('trends.too-few');
  return translate('trends.steady');
}
