/** Trends as one self-contained document: a drawing for each figure, with what the row of readings tells. */
import type { Trend } from '../../record/trend.ts';
import { formatMoment } from '../../wording/date-time.ts';
import { nameField, nameFigure } from '../../wording/terms.ts';
import { decimalsForUncertainty, formatNumber, formatSigned } from '../../wording/numbers.ts';
import { describeDriftMethod, formatDaysLeft, formatSlope, nameDrift } from '../../wording/comparison.ts';
import { composeDocument, type Paper } from './document.ts';
import { type Markup, markup } from './markup.ts';
import { drawSection } from './section.ts';
import { drawTrend } from './trend-drawing.ts';
import { drawVerdictShape } from './verdict-shape.ts';

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
  const mixed =
    houses.length > 1
      ? markup`<p class="why">These are entries of ${houses.length} houses: a drift of one machine can only be seen in the entries of one house.</p>`
      : null;
  const body = markup`<header class="origin"><b>Twinplumb trends</b><span>${house}</span><span>${formatMoment(at)}</span></header><main><div class="lead"><h1>${title}</h1>${mixed}</div>${trends.map(drawOne)}${drawSection('How to read it', null, markup`<p>The grey band lies between the limits that were in force at each reading. A dot is a reading, with its 95 % interval; a triangle lies outside the limits; a hollow square was measured just after turns were made. The broken line is the drift since then. Percent of the picture height; roll in degrees; right-eye picture minus left-eye picture.</p><p>${describeDriftMethod()} At least five readings, over three days or more, are needed. A drift counts where the interval of the slope does not hold zero; an alarm, where the line leaves the limits of the last reading within the time that was asked for.</p>`)}</main>`;
  return composeDocument({
    title,
    body,
    paper,
    running: { left: `Trends, ${house}`, right: formatMoment(at), foot: `twinplumb ${softwareVersion}` },
  });
}

export function composeTrendsTitle(trends: readonly Trend[]): string {
  const named = (verdict: Trend['drift']['verdict']) =>
    trends.filter(({ drift }) => drift.verdict === verdict).map(({ field }) => nameFigure(field).toLowerCase());
  const [alarms, drifting] = [named('alarm'), named('drifting')];
  if (alarms.length > 0) return `Alarm: ${alarms.join('; ')}.`;
  if (drifting.length > 0) return `Drifting, and inside the limits for the time asked for: ${drifting.join('; ')}.`;
  if (trends.every(({ drift }) => drift.verdict === 'too-few')) return 'Too few readings to see a drift.';
  return 'No drift.';
}

function drawOne(trend: Trend): Markup {
  const { field, points, drift } = trend;
  const last = points.at(-1);
  const decimals = last ? decimalsForUncertainty(last.u) : 2;
  const shape = drift.verdict === 'alarm' ? 'outside' : drift.verdict === 'drifting' ? 'undecided' : 'within';
  const words = markup`<span class="verdict">${drift.verdict === 'too-few' ? null : drawVerdictShape(shape)}${nameDrift(drift)}</span>`;
  const latest = last
    ? `last ${formatSigned(last.value, decimals)} ± ${formatNumber(2 * last.u, decimals)}`
    : 'nothing measured';
  return drawSection(
    nameField(field),
    markup`${words}<br>${[`${points.length} readings`, latest, formatSlope(drift), formatDaysLeft(drift)].filter(Boolean).join('; ')}`,
    drawTrend(trend),
  );
}
