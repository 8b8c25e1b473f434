/** Trends of every figure: alarms first, each by word and shape; the house and the look ahead can be chosen. */
import { useState } from 'react';
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { LogbookOverview, LogbookQuery, Paper } from '../../../../contract/logbook.ts';
import type { Drift, Trend } from '../../../../record/trend.ts';
import { nameFigure, unitOfFigure } from '../../../../wording/terms.ts';
import {
  composeTrendsTitle,
  describeDriftMethod,
  formatDaysLeft,
  formatSlope,
} from '../../../../wording/comparison.ts';
import { decimalsForUncertainty, formatNumber, formatSigned } from '../../../../wording/numbers.ts';
import type { Host } from '../../host/host.ts';
import { ListChoice } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { translate } from '../../../../wording/translate.ts';
import { ExportButtons } from './entry-parts.tsx';
import { TrendDrawing } from '../../../../drawings/trend-drawing.tsx';
import { DriftMark } from '../../../../drawings/verdict-mark.tsx';
import { useAnswer } from './use-logbook.ts';

export interface TrendsPageProps {
  readonly host: Host;
  readonly overview: LogbookOverview;
  readonly paper: Paper;
  readonly onPaper: (paper: Paper) => void;
}

const HORIZONS = ['30', '90', '365'] as const;
const RANK: Readonly<Record<Drift['verdict'], number>> = { alarm: 0, drifting: 1, steady: 2, 'too-few': 2 };

export function TrendsPage({ host, overview, paper, onPaper }: TrendsPageProps) {
  const [house, setHouse] = useState(overview.houses.length === 1 ? overview.houses[0]! : '');
  const [horizon, setHorizon] = useState<(typeof HORIZONS)[number]>('90');
  const query: LogbookQuery = house ? { house } : {};
  const { value, failure } = useAnswer(
    host,
    'logbook.trends',
    { ...query, horizon_days: Number(horizon) },
    overview.entries,
  );
  if (failure) return <Notice kind="problem" message={failure.message} remedy={failure.remedy} />;
  if (!value) return <p role="status">{translate('logbook.opening')}</p>;
  const trends = value.trends.toSorted((a, b) => RANK[a.drift.verdict] - RANK[b.drift.verdict]);
  return (
    <article className="logbook-entry">
      <h1>{composeTrendsTitle(value.trends)}</h1>
      <div className="logbook-search logbook-search-trends">
        <ListChoice
          label={translate('logbook.house')}
          options={[
            { value: '', label: translate('logbook.every-house') },
            ...overview.houses.map((name) => ({ value: name, label: name })),
          ]}
          value={house}
          onChange={setHouse}
        />
        <ListChoice
          label={translate('logbook.horizon')}
          options={HORIZONS.map((days) => ({ value: days, label: translate('logbook.days', { days: Number(days) }) }))}
          value={horizon}
          onChange={setHorizon}
          hint={translate('logbook.horizon-hint')}
        />
      </div>
      {value.houses.length > 1 && <Notice kind="note" message={translate('logbook.several-houses')} />}
      <ul className="logbook-trends">
        {trends.map((trend) => (
          <TrendRow key={trend.field} trend={trend} />
        ))}
      </ul>
      <p className="logbook-about">{translate('logbook.trend-legend')}</p>
      <p className="logbook-about">{describeDriftMethod()}</p>
      <ExportButtons
        host={host}
        paper={paper}
        onPaper={onPaper}
        orders={[
          { label: translate('logbook.report-pdf'), address: ADDRESSES.logbook.trends(query, 'report.pdf', paper) },
          { label: translate('logbook.report-html'), address: ADDRESSES.logbook.trends(query, 'report.html', paper) },
          { label: translate('logbook.table-csv'), address: ADDRESSES.logbook.trends(query, 'trends.csv') },
        ]}
      />
    </article>
  );
}

function TrendRow({ trend }: { readonly trend: Trend }) {
  const { field, points, drift } = trend;
  const last = points.at(-1);
  const decimals = last ? decimalsForUncertainty(2 * last.u) : 2;
  return (
    <li className="logbook-trend-row">
      <div>
        <h2>{nameFigure(field)}</h2>
        <p>
          <DriftMark drift={drift} />
        </p>
        {last && (
          <p className="logbook-about">
            {translate('logbook.last', {
              value: `${formatSigned(last.value, decimals)} ± ${formatNumber(2 * last.u, decimals)} ${unitOfFigure(field)}`,
              count: points.length,
            })}
          </p>
        )}
        {drift.slope && <p className="logbook-about">{formatSlope(drift)}</p>}
        {formatDaysLeft(drift) && <p className="logbook-about">{formatDaysLeft(drift)}</p>}
      </div>
      <TrendDrawing trend={trend} />
    </li>
  );
}
