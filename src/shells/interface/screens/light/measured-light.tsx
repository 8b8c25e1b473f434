/** The light that was measured: one map for each picture, with what its numbers mean, and what both eyes get. */
import { useState } from 'react';
import { colourOfLight, cssColour } from '../../../../drawings/field-map.ts';
import { EYES } from '../../../../kernel/eye.ts';
import type { Measured } from '../../../../kernel/measured.ts';
import type { EvennessPicture, MeasuredEvennessRecord } from '../../../../record/evenness.ts';
import type { LightPlace } from '../../../../record/light-codes.ts';
import { formatHotSpot, formatPercent, nameLitPicture, namePlace } from '../../../../wording/light.ts';
import { formatNumber } from '../../../../wording/numbers.ts';
import { translate } from '../../../../wording/translate.ts';
import { Choice } from '../../parts/field.tsx';
import { ASKED, HEIGHT, layoutField } from './field-layout.ts';
import type { UnitProps } from './light-findings.tsx';
import { type LightUnit, UNIT_SIGN, writeInterval, writeLuminance } from './light-units.ts';

export function MeasuredLight({ record, onUnit }: UnitProps & { readonly record: MeasuredEvennessRecord }) {
  const { pictures, aspect, balance } = record;
  const [shown, setShown] = useState<Shown>('pct');
  const hasLuminance = pictures.some(({ luminance }) => luminance !== null);
  return (
    <>
      {hasLuminance && (
        <Choice<Shown>
          label={translate('light.shown')}
          options={[
            { value: 'pct', label: translate('light.shown-pct') },
            { value: 'cd_m2', label: UNIT_SIGN.cd_m2 },
            { value: 'fL', label: UNIT_SIGN.fL },
          ]}
          value={shown}
          onChange={(value) => {
            setShown(value);
            if (value !== 'pct') onUnit(value);
          }}
        />
      )}
      <div className={`light-maps light-maps-${pictures.length}`}>
        {pictures.map((picture) => (
          <section key={picture.picture} className="light-map" aria-label={nameLitPicture(picture.picture)}>
            <h2 className={`light-map-title light-map-${picture.picture}`}>
              {translate(`light.title-${picture.picture}`)}
            </h2>
            <FieldMap picture={picture} aspect={aspect} shown={hasLuminance ? shown : 'pct'} />
            <p>{formatHotSpot(picture.hot_spot)}</p>
            <p className="light-soft">
              {translate('light.halves', {
                sides: formatPercent(picture.right_over_left_pct),
                heights: formatPercent(picture.top_over_bottom_pct),
              })}
            </p>
          </section>
        ))}
      </div>
      {balance && <EyesBalance balance={balance} />}
    </>
  );
}

/** The map of one picture's light: bands and lines of equal light, numbers at nine places, the hot spot. */

type Shown = 'pct' | LightUnit;

interface FieldMapProps {
  readonly picture: EvennessPicture;
  readonly aspect: number;
  readonly shown: Shown;
}

function FieldMap({ picture, aspect, shown }: FieldMapProps) {
  const drawing = layoutField(picture, aspect);
  const { width, bands, contours, asked, places, hotSpot, range } = drawing;
  const isSure = picture.hot_spot.significance >= 2;
  return (
    <figure className="light-field">
      <div className="light-field-area">
        <span className="unseen">
          {translate('light.field', { min: formatNumber(range[0], 0), max: formatNumber(range[1], 0) })}
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
          <rect
            key={level}
            x={i}
            width="1.02"
            height="1"
            fill={cssColour(colourOfLight((level + 2.5) / Math.max(100, high)))}
          />
        ))}
      </svg>
      <span>{`${high} %`}</span>
    </span>
  );
}

/** What the two eyes get: the brighter one as a whole, the other as a part of it, and their colours. */

type Balance = NonNullable<MeasuredEvennessRecord['balance']>;

function EyesBalance({ balance }: { readonly balance: Balance }) {
  const { right_over_left_pct: ratio, places_pct, colour } = balance;
  const places = Object.entries(places_pct) as [LightPlace, Measured][];
  const darkest = places.reduce((a, b) => (b[1].value < a[1].value ? b : a));
  const brightest = places.reduce((a, b) => (b[1].value > a[1].value ? b : a));
  const shares = { left: 100 / Math.max(100, ratio.value), right: ratio.value / Math.max(100, ratio.value) };
  return (
    <section className="light-section" aria-labelledby="light-eyes">
      <h2 id="light-eyes">{translate('light.eyes')}</h2>
      <div className="light-eyes" aria-hidden="true">
        {EYES.map((eye) => (
          <span key={eye} className={`light-eye light-eye-${eye}`}>
            <span>{translate(`light.eye-${eye}`)}</span>
            <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
              <rect className="light-eye-whole" width="100" height="10" />
              <rect className="light-eye-part" width={100 * shares[eye]} height="10" />
            </svg>
          </span>
        ))}
      </div>
      <p>
        {translate('light.eyes-ratio', {
          ratio: formatPercent(ratio),
          min: formatPercent(darkest[1]),
          minPlace: namePlace(darkest[0]),
          max: formatPercent(brightest[1]),
          maxPlace: namePlace(brightest[0]),
        })}
      </p>
      <p className="light-soft">
        {colour
          ? translate('light.eyes-colour', { red: formatPercent(colour.red_pct), blue: formatPercent(colour.blue_pct) })
          : translate('light.eyes-no-colour')}
      </p>
    </section>
  );
}
