/** How long what is drawn really is: an arrow and a residual of a round amount, in words. */
import type { ErrorMap } from '../../../../../drawings/error-map.ts';
import { cssColour } from '../../../../../drawings/field-map.ts';
import { chooseMeasure } from '../../../../../drawings/scale.ts';
import type { ReadingHouse } from '../../../../../record/reading.ts';
import { formatLength, millimetresOnScreen, type Units } from '../../../../../wording/lengths.ts';
import { formatGiven, formatNumber, formatSigned } from '../../../../../wording/numbers.ts';
import { translate } from '../../../../../wording/translate.ts';
import { factorAt, type ViewSettings } from './view-settings.ts';

interface ScaleLegendProps {
  readonly settings: ViewSettings;
  readonly house: ReadingHouse;
  readonly units: Units;
  /** Screen px for one photo px, and photo px for one percent of the picture height. */
  readonly scale: number;
  readonly pixelsPerPercent: number;
}

const LONGEST_PX = 72;

export function ScaleLegend({ settings, house, units, scale, pixelsPerPercent }: ScaleLegendProps) {
  const { layers, arrowFactor, residualFactor } = settings;
  const arrow = chooseMeasure(factorAt(arrowFactor) * pixelsPerPercent * scale, LONGEST_PX);
  const residual = chooseMeasure(factorAt(residualFactor) * scale, LONGEST_PX);
  const millimetres = millimetresOnScreen(arrow.amount, house);
  return (
    <ul className="reading-scale">
      {layers.arrows && (
        <li>
          <MeasureMark length_px={arrow.length_px} isArrow />
          {translate('reading.arrow-scale', {
            percent: formatGiven(arrow.amount),
            isKnown: millimetres === null ? 'no' : 'yes',
            length: formatLength(millimetres ?? 0, units),
          })}
        </li>
      )}
      {layers.marks && (
        <li>
          <MeasureMark length_px={residual.length_px} isArrow={false} />
          {translate('reading.residual-scale', { px: formatGiven(residual.amount) })}
        </li>
      )}
    </ul>
  );
}

function MeasureMark({ length_px, isArrow }: { readonly length_px: number; readonly isArrow: boolean }) {
  const end = 1 + Math.max(2, length_px);
  const head = Math.min(9, 0.6 * length_px);
  return (
    <svg className="reading-measure" width={end + 1} height="12" viewBox={`0 0 ${end + 1} 12`} aria-hidden="true">
      <path d={`M1 6H${isArrow ? end - head : end}`} stroke="currentColor" strokeWidth="2" />
      {isArrow ? (
        <path d={`M${end} 6l${-head} ${-0.42 * head}v${0.84 * head}Z`} fill="currentColor" />
      ) : (
        <path d={`M1 2v8M${end} 2v8`} stroke="currentColor" strokeWidth="1.5" />
      )}
    </svg>
  );
}

/** The colours of the map with their numbers, and from where it is seen. */

interface MapLegendProps {
  readonly map: ErrorMap;
  readonly seat: string;
  readonly limit_arcmin: number | null;
}

const BAND = 34;
const HEIGHT = 14;

export function MapLegend({ map, seat, limit_arcmin }: MapLegendProps) {
  const { bands, decimals, min, max } = map;
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
        aria-label={translate('reading.map-range', { min: formatSigned(min, 1), max: formatSigned(max, 1) })}
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
        {limit_arcmin !== null && (
          <>
            {' '}
            {translate(map.limits.length > 0 ? 'reading.map-limit' : 'reading.map-limit-nowhere', {
              limit: formatGiven(limit_arcmin),
            })}
          </>
        )}
      </p>
    </div>
  );
}
