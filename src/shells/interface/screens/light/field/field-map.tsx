/** The map of one picture's light: bands and lines of equal light, numbers at nine places, the hot spot. */
import type { EvennessPicture } from '../../../../../record/evenness.ts';
import type { LightPlace } from '../../../../../record/light-finding.ts';
import { formatPercent, namePlace } from '../../../../../wording/light.ts';
import { formatNumber } from '../../../../../wording/numbers.ts';
import { translate } from '../../../../../wording/translate.ts';
import { type LightUnit, UNIT_SIGN, writeInterval, writeLuminance } from '../units.ts';
import { colourOfLight } from './light-colour.ts';
import { ASKED, HEIGHT, layOutField } from './lay-out-field.ts';

export type Shown = 'pct' | LightUnit;

export interface FieldMapProps {
  readonly picture: EvennessPicture;
  readonly aspect: number;
  readonly shown: Shown;
}

export function FieldMap({ picture, aspect, shown }: FieldMapProps) {
  const drawing = layOutField(picture, aspect);
  const { width, bands, contours, asked, places, hotSpot, range } = drawing;
  const isSure = picture.hot_spot.significance >= 2;
  return (
    <figure className="light-field">
      <div className="light-field-area">
        <span className="unseen">
          {translate('light.field', { least: formatNumber(range[0], 0), most: formatNumber(range[1], 0) })}
        </span>
        <svg viewBox={`0 0 ${width} ${HEIGHT}`} aria-hidden="true" preserveAspectRatio="none">
          {bands.map(({ path, colour }) => (
            <path key={colour + path.length} d={path} fill={colour} stroke={colour} strokeWidth="1.5" />
          ))}
          {contours.map(({ level, path }) => (
            <path key={level} className="light-contour" d={path} />
          ))}
          {asked !== '' && <path className="light-contour-asked" d={asked} />}
          {isSure && (
            <g className="light-hot-spot" transform={`translate(${hotSpot.x} ${hotSpot.y})`}>
              <circle r="34" />
              <path d="M-62 0h40M22 0h40M0-62v40M0 22v40" />
            </g>
          )}
        </svg>
        {places.map(({ place, x, y }) => (
          <span
            key={place}
            className={`light-number light-number-${place}`}
            style={{ left: `${(100 * x) / width}%`, top: `${(100 * y) / HEIGHT}%` }}
          >
            <span className="unseen">{`${namePlace(place)}: `}</span>
            <PlaceNumber picture={picture} place={place} shown={shown} />
          </span>
        ))}
      </div>
      <figcaption className="light-scale">
        <Scale range={range} />
        <span>{translate('light.scale-lines')}</span>
        {asked !== '' && (
          <span className="light-key-asked">
            <svg viewBox="0 0 40 10" aria-hidden="true">
              <path d="M0 5h40" />
            </svg>
            {translate('light.scale-asked', { asked: ASKED })}
          </span>
        )}
        {isSure && (
          <span className="light-key-spot">
            <svg viewBox="0 0 24 24" aria-hidden="true">
              <circle cx="12" cy="12" r="5.5" />
              <path d="M1 12h6M17 12h6M12 1v6M12 17v6" />
            </svg>
            {translate('light.scale-spot')}
          </span>
        )}
      </figcaption>
    </figure>
  );
}

function PlaceNumber({ picture, place, shown }: Omit<FieldMapProps, 'aspect'> & { readonly place: LightPlace }) {
  const luminance = picture.luminance?.[place];
  if (shown !== 'pct' && luminance) {
    return (
      <span title={`${writeInterval(luminance[shown])} ${UNIT_SIGN[shown]}`}>{writeLuminance(luminance, shown)}</span>
    );
  }
  const part = picture.of_centre_pct[place];
  return <span title={formatPercent(part)}>{`${formatNumber(part.value, 0)} %`}</span>;
}

function Scale({ range: [low, high] }: { readonly range: readonly [number, number] }) {
  const steps = Array.from({ length: Math.round((high - low) / 5) }, (_, i) => low + 5 * i);
  return (
    <span className="light-scale-bar">
      <span>{`${low} %`}</span>
      <svg viewBox={`0 0 ${steps.length} 1`} preserveAspectRatio="none" aria-hidden="true">
        {steps.map((level, i) => (
          <rect key={level} x={i} width="1.02" height="1" fill={colourOfLight((level + 2.5) / Math.max(100, high))} />
        ))}
      </svg>
      <span>{`${high} %`}</span>
    </span>
  );
}
