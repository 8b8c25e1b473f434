/** A trend as a drawing for paper: band, readings, drift; triangles outside the limits, squares after turns. */
import type { Trend } from '../../record/trend.ts';
import { layOutTrend, type PlottedPoint } from '../trend-plot.ts';
import { nameField } from '../../wording/terms.ts';
import { formatNumber } from '../../wording/numbers.ts';
import { formatDrift } from '../../wording/comparison.ts';
import { coordinate, type Markup, markup } from './markup.ts';

const FRAME = { width: 640, height: 190, left: 62, bottom: 26 };

export function drawTrend(trend: Trend): Markup {
  const plot = layOutTrend(trend, FRAME);
  if (!plot) return markup`<p class="note">Nothing was measured.</p>`;
  const { points, bands, drift, values, days, zero } = plot;
  const end = FRAME.width;
  const base = FRAME.height - FRAME.bottom;
  return markup`<svg class="trend" viewBox="0 0 ${FRAME.width} ${FRAME.height}" role="img" aria-label="${nameField(trend.field)}: ${formatDrift(trend.drift)}">${bands.map(
    ({ x, width, top, base: low }) =>
      markup`<rect x="${coordinate(x)}" y="${coordinate(top)}" width="${coordinate(width)}" height="${coordinate(low - top)}" fill="#e6e9e3"/>`,
  )}${values.map(
    ({ value, decimals, y }) =>
      markup`<path d="M${FRAME.left} ${coordinate(y)}H${end}" stroke="#c9ced6" stroke-width="0.6"/><text x="${FRAME.left - 6}" y="${coordinate(y + 4)}" text-anchor="end">${formatNumber(value, decimals)}</text>`,
  )}<path d="M${FRAME.left} ${coordinate(zero)}H${end}" stroke="#565d66" stroke-width="1"/>${days.map(
    ({ day, x }) =>
      markup`<path d="M${coordinate(x)} ${base}v5" stroke="#565d66"/><text x="${coordinate(x)}" y="${FRAME.height - 6}" text-anchor="${x < FRAME.left + 40 ? 'start' : x > FRAME.width - 50 ? 'end' : 'middle'}">${day}</text>`,
  )}${drift ? markup`<path d="M${coordinate(drift.x1)} ${coordinate(drift.y1)}L${coordinate(drift.x2)} ${coordinate(drift.y2)}" stroke="#16191d" stroke-width="1.6" stroke-dasharray="7 4"/>` : null}${points.map(drawPoint)}</svg>`;
}

function drawPoint({ point, x, y, top, base, isOutside }: PlottedPoint): Markup {
  const [cx, cy] = [coordinate(x), coordinate(y)];
  const shape = isOutside
    ? markup`<path d="M${cx} ${cy - 6}l6 10h-12Z" fill="#16191d"/>`
    : point.is_after_turns
      ? markup`<rect x="${cx - 4}" y="${cy - 4}" width="8" height="8" fill="#fff" stroke="#16191d" stroke-width="1.8"/>`
      : markup`<circle cx="${cx}" cy="${cy}" r="3.6" fill="#16191d"/>`;
  return markup`<path d="M${cx} ${coordinate(top)}V${coordinate(base)}" stroke="#16191d" stroke-width="1.2"/>${shape}`;
}
