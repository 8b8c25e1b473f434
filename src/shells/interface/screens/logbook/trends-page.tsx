/** Trends of every figure: alarms first, each by word and shape; the house and the look ahead can be chosen. */
import { useState } from 'react';
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { LogbookOverview, LogbookQuery, Paper } from '../../../../contract/logbook.ts';
import type { Drift, Trend } from '../../../../record/trend.ts';
import { composeTrendsTitle } from '../../../../report/html/trends-report.ts';
import { nameFigure, unitOfFigure } from '../../../../wording/terms.ts';
import { decimalsForUncertainty, formatNumber, formatSigned } from '../../../../wording/numbers.ts';
import { describeDriftMethod, formatDaysLeft, formatSlope, nameDrift } from '../../../../wording/comparison.ts';
import type { Host } from '../../host/host.ts';
import { ListChoice } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { translate } from '../../../../wording/translate.ts';
import { HandOut } from './entry-parts.tsx';
import { TrendDrawing } from './trend-drawing.tsx';
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
      <HandOut
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
  const decimals = last ? decimalsForUncertainty(last.u) : 2;
  return (
    <li className="logbook-trend-row">
      <div>
        <h2>{nameFigure(field)}</h2>
        <p className={`part-verdict logbook-drift-${drift.verdict}`}>
          <DriftShape verdict={drift.verdict} />
          {nameDrift(drift)}
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

function DriftShape({ verdict }: Pick<Drift, 'verdict'>) {
  const shapes = {
    alarm: <path d="M10 1.5 19 18H1Z" fill="currentColor" />,
    drifting: <path d="M2 15 13 6M7.5 5.2h6.3v6.3" fill="none" stroke="currentColor" strokeWidth="2.2" />,
    steady: <circle cx="10" cy="10" r="7.2" fill="none" stroke="currentColor" strokeWidth="2.4" />,
    'too-few': <path d="M3 10h3M8.5 10h3M14 10h3" stroke="currentColor" strokeWidth="2.4" />,
  } as const;
  return (
    <svg viewBox="0 0 20 20" aria-hidden="true">
      {shapes[verdict]}
    </svg>
  );
}
