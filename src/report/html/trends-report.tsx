/** Trends as one self-contained document: a drawing for each figure, with what the row of readings tells. */
import { TrendDrawing } from '../../drawings/trend-drawing.tsx';
import { DriftMark } from '../../drawings/verdict-mark.tsx';
import type { Trend } from '../../record/trend.ts';
import { formatMoment } from '../../wording/date-time.ts';
import { nameField } from '../../wording/terms.ts';
import { composeTrendsTitle, describeDriftMethod, formatDaysLeft, formatSlope } from '../../wording/comparison.ts';
import { decimalsForUncertainty, formatNumber, formatSigned } from '../../wording/numbers.ts';
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
  const house = houses.join(', ') || 'No house';
  return renderDocument({
    title,
    body: (
      <>
        <Origin kind="Twinplumb trends" facts={[house, formatMoment(at)]} />
        <main>
          <div className="lead">
            <h1>{title}</h1>
            {houses.length > 1 && (
              <p className="why">
                These are entries of {houses.length} houses: a drift of one machine can only be seen in the entries of
                one house.
              </p>
            )}
          </div>
          {trends.map((trend) => (
            <One key={trend.field} trend={trend} />
          ))}
          <HowToRead />
        </main>
      </>
    ),
    paper,
    running: { left: `Trends, ${house}`, right: formatMoment(at), foot: `twinplumb ${softwareVersion}` },
  });
}

function One({ trend }: { readonly trend: Trend }) {
  const { field, points, drift } = trend;
  const last = points.at(-1);
  const decimals = last ? decimalsForUncertainty(last.u) : 2;
  const latest = last
    ? `last ${formatSigned(last.value, decimals)} ± ${formatNumber(2 * last.u, decimals)}`
    : 'nothing measured';
  return (
    <Section
      title={nameField(field)}
      note={
        <>
          <DriftMark drift={drift} />
          <br />
          {[`${points.length} readings`, latest, formatSlope(drift), formatDaysLeft(drift)].filter(Boolean).join('; ')}
        </>
      }
    >
      {last ? <TrendDrawing trend={trend} /> : <p className="note">Nothing was measured.</p>}
    </Section>
  );
}

function HowToRead() {
  return (
    <Section title="How to read it">
      <p>
        The grey band lies between the limits that were in force at each reading. A dot is a reading, with its 95 %
        interval; a triangle lies outside the limits; a hollow square was measured just after turns were made. The
        broken line is the drift since then. Percent of the picture height; roll in degrees; right-eye picture minus
        left-eye picture.
      </p>
      <p>
        {describeDriftMethod()} At least five readings, over three days or more, are needed. A drift counts where the
        interval of the slope does not hold zero; an alarm, where the line leaves the limits of the last reading within
        the time that was asked for.
      </p>
    </Section>
  );
}
