/** Trends as one self-contained document: a drawing for each figure, with what the row of readings tells. */
import { TrendDrawing } from '../../drawings/trend-drawing.tsx';
import { DriftMark } from '../../drawings/verdict-mark.tsx';
import type { Trend } from '../../record/trend.ts';
import { composeTrendsTitle, describeDriftMethod, formatDaysLeft, formatSlope } from '../../wording/comparison.ts';
import { formatMoment } from '../../wording/date-time.ts';
import { decimalsForUncertainty, formatNumber, formatSigned } from '../../wording/numbers.ts';
import { nameField } from '../../wording/terms.ts';
import { translate } from '../../wording/translate.ts';
import { Origin, renderDocument, Section } from './document.tsx';
import type { Paper } from './style.ts';

export interface TrendsReport {
  readonly trends: readonly Trend[];
  /** Of which the figures are; several make no one machine. */
  readonly houses: readonly string[];
  /** When the report was made. */
  readonly at: string;
  readonly softwareVersion: string;
  readonly paper?: Paper | undefined;
}

export function renderTrendsReport({ trends, houses, at, softwareVersion, paper }: TrendsReport): string {
  const title = composeTrendsTitle(trends);
  const house = houses.join(', ') || translate('report.no-house');
  return renderDocument({
    title,
    body: (
      <>
        <Origin kind={translate('report.kind-trends')} facts={[house, formatMoment(at)]} />
        <main>
          <div className="lead">
            <h1>{title}</h1>
            {houses.length > 1 && <p className="why">{translate('report.several-houses', { count: houses.length })}</p>}
          </div>
          {trends.map((trend) => (
            <One key={trend.field} trend={trend} />
          ))}
          <HowToRead />
        </main>
      </>
    ),
    paper,
    running: {
      left: translate('report.trends-of', { house }),
      right: formatMoment(at),
      foot: `twinplumb ${softwareVersion}`,
    },
  });
}

function One({ trend }: { readonly trend: Trend }) {
  const { field, points, drift } = trend;
  const last = points.at(-1);
  const decimals = last ? decimalsForUncertainty(2 * last.u) : 2;
  const latest = last
    ? translate('report.latest', { value: formatSigned(last.value, decimals), u: formatNumber(2 * last.u, decimals) })
    : translate('report.nothing-measured');
  return (
    <Section
      title={nameField(field)}
      note={
        <>
          <DriftMark drift={drift} />
          <br />
          {[translate('report.readings', { count: points.length }), latest, formatSlope(drift), formatDaysLeft(drift)]
            .filter(Boolean)
            .join('; ')}
        </>
      }
    >
      {last ? <TrendDrawing trend={trend} /> : <p className="note">{translate('report.nothing-was-measured')}</p>}
    </Section>
  );
}

function HowToRead() {
  return (
    <Section title={translate('report.how-to-read')}>
      <p>{translate('report.trend-legend')}</p>
      <p>
        {describeDriftMethod()} {translate('report.trend-method')}
      </p>
    </Section>
  );
}
