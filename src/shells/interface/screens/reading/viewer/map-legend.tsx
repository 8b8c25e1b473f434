/** The colours of the map with their numbers, and from where it is seen. */
import { translate } from '../../../../../wording/translate.ts';
import { formatGiven, formatNumber, formatSigned } from '../../../../../wording/numbers.ts';
import { cssColour } from '../layers/colour-scale.ts';
import type { ErrorMap } from '../layers/error-map.ts';

export interface MapLegendProps {
  readonly map: ErrorMap;
  readonly seat: string;
  readonly limit_arcmin: number | null;
}

const BAND = 34;
const HEIGHT = 14;

export function MapLegend({ map, seat, limit_arcmin }: MapLegendProps) {
  const { bands, decimals, least, most } = map;
  const width = BAND * bands.length;
  const edges = [...bands.map(({ low }) => low), bands.at(-1)!.high];
  const number = (value: number) => (Math.abs(value) < 1e-9 ? formatNumber(0, 0) : formatSigned(value, decimals));
  return (
    <div className="reading-map-legend">
      <p>{translate('reading.map-title', { seat })}</p>
      <svg
        viewBox={`-16 0 ${width + 32} ${HEIGHT + 18}`}
        style={{ width: `${(width + 32) / 16}rem` }}
        role="img"
        aria-label={translate('reading.map-range', { least: formatSigned(least, 1), most: formatSigned(most, 1) })}
      >
        {bands.map(({ low, colour, isNegative }, i) => (
          <g key={low} transform={`translate(${BAND * i} 0)`}>
            <rect width={BAND} height={HEIGHT} fill={cssColour(colour)} />
            {isNegative && (
              <path
                d={Array.from({ length: 5 }, (_, k) => `M${7 * k} ${HEIGHT}l6-${HEIGHT}`).join('')}
                stroke="#0a0b0d"
                strokeWidth="1.4"
              />
            )}
          </g>
        ))}
        {edges.map((value, i) => (
          <text key={value} x={BAND * i} y={HEIGHT + 14} textAnchor="middle">
            {number(value)}
          </text>
        ))}
      </svg>
      <p className="reading-soft">
        {translate('reading.map-signs')}
        {limit_arcmin !== null && map.limits.length > 0 && (
          <> {translate('reading.map-limit', { limit: formatGiven(limit_arcmin) })}</>
        )}
      </p>
    </div>
  );
}
