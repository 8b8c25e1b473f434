/** A trend drawn: the band of the limits, the readings, the drift. Triangles lie outside, squares come after turns. */
import type { Trend } from '../../../../record/trend.ts';
import { layOutTrend, type PlottedPoint } from '../../../../report/trend-plot.ts';
import { nameField } from '../../../../wording/terms.ts';
import { formatNumber, formatSigned } from '../../../../wording/numbers.ts';
import { formatDrift } from '../../../../wording/comparison.ts';
import { formatDateTime } from '../../../../wording/date-time.ts';

const FRAME = { width: 760, height: 190, left: 64, bottom: 28 };

export function TrendDrawing({ trend }: { readonly trend: Trend }) {
  const plot = layOutTrend(trend, FRAME);
  if (!plot) return null;
  const base = FRAME.height - FRAME.bottom;
  const anchor = (x: number) => (x < FRAME.left + 40 ? 'start' : x > FRAME.width - 50 ? 'end' : 'middle');
  return (
    <svg
      className="logbook-trend"
      viewBox={`0 0 ${FRAME.width} ${FRAME.height}`}
      role="img"
      aria-label={`${nameField(trend.field)}: ${formatDrift(trend.drift)}`}
    >
      {plot.bands.map(({ x, width, top, base: low }) => (
        <rect key={x} className="logbook-band" x={x} y={top} width={width} height={low - top} />
      ))}
      {plot.values.map(({ value, decimals, y }) => (
        <g key={value}>
          <path className="logbook-grid" d={`M${FRAME.left} ${y}H${FRAME.width}`} />
          <text x={FRAME.left - 8} y={y + 4} textAnchor="end">
            {formatNumber(value, decimals)}
          </text>
        </g>
      ))}
      <path className="logbook-zero" d={`M${FRAME.left} ${plot.zero}H${FRAME.width}`} />
      {plot.days.map(({ day, x }) => (
        <g key={day}>
          <path className="logbook-zero" d={`M${x} ${base}v5`} />
          <text x={x} y={FRAME.height - 6} textAnchor={anchor(x)}>
            {day}
          </text>
        </g>
      ))}
      {plot.drift && (
        <path
          className="logbook-drift"
          d={`M${plot.drift.x1} ${plot.drift.y1}L${plot.drift.x2} ${plot.drift.y2}`}
          strokeDasharray="8 5"
        />
      )}
      {plot.points.map((point) => (
        <Point key={point.point.id} {...point} />
      ))}
    </svg>
  );
}

function Point({ point, x, y, top, base, isOutside }: PlottedPoint) {
  return (
    <g>
      <title>{`${formatDateTime(point.saved_at)}: ${formatSigned(point.value, 4)}`}</title>
      <path className="logbook-interval" d={`M${x} ${top}V${base}`} />
      {isOutside ? (
        <path className="logbook-outside" d={`M${x} ${y - 7}l7 12h-14Z`} />
      ) : point.is_after_turns ? (
        <rect className="logbook-after" x={x - 4.5} y={y - 4.5} width="9" height="9" />
      ) : (
        <circle className="logbook-dot" cx={x} cy={y} r="4" />
      )}
    </g>
  );
}
