/** A trend: the band of the limits, the readings, the drift. Triangles lie outside, squares come after turns. */
import type { Trend } from '../record/trend.ts';
import { formatDateTime } from '../wording/date-time.ts';
import { nameField } from '../wording/terms.ts';
import { formatDrift } from '../wording/comparison.ts';
import { formatNumber, formatSigned } from '../wording/numbers.ts';
import { layoutTrend, type PlottedPoint } from './trend-plot.ts';

const FRAME = { width: 760, height: 190, left: 64, bottom: 28 };

/** Nothing where nothing was measured. */
export function TrendDrawing({ trend }: { readonly trend: Trend }) {
  const plot = layoutTrend(trend, FRAME);
  if (!plot) return null;
  const base = FRAME.height - FRAME.bottom;
  const anchor = (x: number) => (x < FRAME.left + 40 ? 'start' : x > FRAME.width - 50 ? 'end' : 'middle');
  return (
    <svg
      className="trend"
      viewBox={`0 0 ${FRAME.width} ${FRAME.height}`}
      role="img"
      aria-label={`${nameField(trend.field)}: ${formatDrift(trend.drift)}`}
      fontSize="13"
    >
      {plot.bands.map(({ x, width, top, base: low }) => (
        <rect
          key={x}
          x={round(x)}
          y={round(top)}
          width={round(width)}
          height={round(low - top)}
          fill="var(--line)"
          opacity="0.45"
        />
      ))}
      {plot.values.map(({ value, decimals, y }) => (
        <g key={value}>
          <path d={`M${FRAME.left} ${round(y)}H${FRAME.width}`} stroke="var(--line)" strokeWidth="0.6" />
          <text x={FRAME.left - 8} y={round(y + 4)} textAnchor="end" fill="var(--soft)">
            {formatNumber(value, decimals)}
          </text>
        </g>
      ))}
      <path d={`M${FRAME.left} ${round(plot.zero)}H${FRAME.width}`} stroke="var(--edge)" />
      {plot.days.map(({ day, x }) => (
        <g key={day}>
          <path d={`M${round(x)} ${base}v5`} stroke="var(--edge)" />
          <text x={round(x)} y={FRAME.height - 6} textAnchor={anchor(x)} fill="var(--soft)">
            {day}
          </text>
        </g>
      ))}
      {plot.drift && (
        <path
          d={`M${round(plot.drift.x1)} ${round(plot.drift.y1)}L${round(plot.drift.x2)} ${round(plot.drift.y2)}`}
          fill="none"
          stroke="var(--accent)"
          strokeWidth="2"
          strokeDasharray="8 5"
        />
      )}
      {plot.points.map((point) => (
        <Point key={point.point.id} {...point} />
      ))}
    </svg>
  );
}

function Point({ point, top, base, isOutside, ...at }: PlottedPoint) {
  const [x, y] = [round(at.x), round(at.y)];
  const colour = isOutside ? 'var(--outside)' : 'var(--ink)';
  return (
    <g>
      <title>{`${formatDateTime(point.saved_at)}: ${formatSigned(point.value, 4)}`}</title>
      <path d={`M${x} ${round(top)}V${round(base)}`} stroke="var(--ink)" strokeWidth="1.4" />
      {isOutside ? (
        <path d={`M${x} ${round(y - 7)}l7 12h-14Z`} fill={colour} />
      ) : point.is_after_turns ? (
        <rect
          x={round(x - 4.5)}
          y={round(y - 4.5)}
          width="9"
          height="9"
          fill="var(--ground)"
          stroke={colour}
          strokeWidth="2"
        />
      ) : (
        <circle cx={x} cy={y} r="4" fill={colour} />
      )}
    </g>
  );
}

/** A hundredth of a drawing px is less than a page can show. */
const round = (value: number) => Math.round(100 * value) / 100;
