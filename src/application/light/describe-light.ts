/** Light measured from files, as the record of it: units at the edge of the program. Words are made elsewhere. */
import { DEFAULT_ASPECT } from '../../kernel/aspect.ts';
import { type Measured, scaleMeasured } from '../../kernel/measured.ts';
import { CD_M2_PER_FOOTLAMBERT } from '../../kernel/photometry.ts';
import type { Balance } from '../../light/balance-eyes.ts';
import { type HotSpot, placePoint } from '../../light/evenness.ts';
import { type LightSurface, lightRatio } from '../../light/light-surface.ts';
import type { Vignetting } from '../../light/vignetting.ts';
import { type JudgedPicture, judgeEvenness } from '../../limits/judge-light.ts';
import type { Photo } from '../../photo/photo.ts';
import {
  EVENNESS_SCHEMA,
  type EvennessPicture,
  type UnwordedEvenness,
  type UnwordedMeasuredEvenness,
} from '../../record/evenness.ts';
import { LIGHT_PLACES, type LightPlace, type LitPicture } from '../../record/light-codes.ts';
import type { LightRole } from '../../record/roles.ts';
import type { EvennessRequest } from './lit-pictures.ts';
import { type MeasuredEvenness, measureEvenness, type PictureEvenness } from './measure-evenness.ts';

/** One reading of a meter, as somebody states it. */
export interface StatedReading {
  readonly of: LitPicture;
  readonly place: LightPlace;
  readonly luminance_cd_m2: Measured;
  /** The meter looked through the same lens of the glasses: it is the light at the eye. */
  readonly throughGlasses: boolean;
}

export interface LightRequest extends Omit<EvennessRequest, 'meter'> {
  readonly meter?: StatedReading;
  readonly softwareVersion: string;
}

/** Grid of the recorded field. */
const FIELD_COLUMNS = 21;
const FIELD_ROWS = 11;

export async function describeLight({ meter, softwareVersion, ...request }: LightRequest): Promise<UnwordedEvenness> {
  const aspect = request.aspect ?? DEFAULT_ASPECT;
  const reading = meter && {
    of: meter.of,
    at: placePoint(meter.place, aspect),
    luminance_cd_m2: meter.luminance_cd_m2,
  };
  const measured = await measureEvenness({ ...request, ...(reading ? { meter: reading } : {}) });
  const head = {
    schema: EVENNESS_SCHEMA,
    software: { name: 'twinplumb', version: softwareVersion },
    subject: request.subject,
  } as const;
  if (measured.outcome === 'refused') {
    const { refusal, role, file } = measured;
    return { ...head, outcome: 'refused', refusal: { code: refusal.code, facts: refusal.facts, shot: role, file } };
  }
  return { ...head, outcome: 'measured', aspect, ...describeMeasured(measured, request, meter) };
}

type Described = Omit<UnwordedMeasuredEvenness, 'schema' | 'software' | 'subject' | 'outcome' | 'aspect'>;

function describeMeasured(
  measured: MeasuredEvenness,
  { subject, flat, turned }: Omit<EvennessRequest, 'meter'>,
  meter: StatedReading | undefined,
): Described {
  const { photos, vignetting, vignettingPhoto, pictures, balance, notes } = measured;
  const learned = flat
    ? ({ source: flat, role: 'flat-field' } as const)
    : turned && { source: turned, role: 'turned-camera' as const };
  return {
    shots: [
      ...photos.map(({ photo, source, role }) => describeShot(photo, source.name, role)),
      ...(vignettingPhoto && learned ? [describeShot(vignettingPhoto, learned.source.name, learned.role)] : []),
    ],
    vignetting: { method: vignetting.method, corner_pct: describeCorner(vignetting) },
    pictures: pictures.map(describePicture),
    balance: balance && describeBalance(balance),
    meter: meter
      ? {
          of: meter.of,
          place: meter.place,
          ...inBothUnits(meter.luminance_cd_m2),
          through_glasses: meter.throughGlasses,
        }
      : null,
    findings: judgeEvenness(
      pictures.map((picture) => judgedPicture(picture, subject, meter)),
      balance,
      vignetting.method !== 'assumed',
    ),
    notes: notes.map((code) => ({ code })),
  };
}

/** A limit of luminance holds only for what was read as it means it. */
function judgedPicture(
  { picture, evenness, luminance }: PictureEvenness,
  subject: EvennessRequest['subject'],
  meter: StatedReading | undefined,
): JudgedPicture {
  const limit = meter?.throughGlasses
    ? 'at-the-eye'
    : subject === 'open-gate' && picture === 'bare'
      ? 'centre-film-open-gate'
      : null;
  const centre = limit && luminance ? { limit, cd_m2: luminance.centre.cd_m2 } : null;
  return { picture, evenness, centre } as JudgedPicture;
}

function describeShot(photo: Photo, file: string, role: LightRole) {
  return { role, file, sha256: photo.sha256, width_px: photo.width, height_px: photo.height };
}

function describeCorner({ logTransmittance, spread }: Vignetting): Measured {
  const value = 100 * Math.exp(logTransmittance(1));
  return { value, u: value * Math.hypot(...spread(1)) };
}

function describePicture({
  picture,
  role,
  evenness,
  light,
  luminance,
  tone,
  samples,
}: PictureEvenness): EvennessPicture {
  const { ofCentre, darkest: least, hotSpot, rightOverLeft, topOverBottom } = evenness;
  const { used, order } = light.luminance;
  return {
    picture,
    role,
    of_centre_pct: overPlaces((place) => inPercent(ofCentre[place])),
    darkest: { place: least.place, ...inPercent(least.ofCentre) },
    hot_spot: describeHotSpot(hotSpot),
    right_over_left_pct: inPercent(rightOverLeft),
    top_over_bottom_pct: inPercent(topOverBottom),
    luminance: luminance && overPlaces((place) => ({ cd_m2: luminance[place].cd_m2, fL: luminance[place].fL })),
    tone,
    samples: { found: samples.length, used: used.filter(Boolean).length, order },
    field: describeField(light.luminance),
  };
}

function describeHotSpot({ at, u, distance_ih, direction_deg, overCentre, significance }: HotSpot) {
  return {
    at: [at.x, at.y] as const,
    u_ih: u && ([u.x, u.y] as const),
    distance_ih,
    direction_deg,
    of_centre_pct: inPercent(overCentre),
    significance,
  };
}

function describeField(surface: LightSurface): EvennessPicture['field'] {
  const ratios = Array.from({ length: FIELD_ROWS * FIELD_COLUMNS }, (_, i) => {
    const x = ((i % FIELD_COLUMNS) / (FIELD_COLUMNS - 1) - 0.5) * surface.aspect;
    const y = 0.5 - Math.floor(i / FIELD_COLUMNS) / (FIELD_ROWS - 1);
    return lightRatio(surface, { x, y }, { x: 0, y: 0 });
  });
  const rounded = (value: number) => Number((100 * value).toFixed(3));
  return {
    columns: FIELD_COLUMNS,
    rows: FIELD_ROWS,
    of_centre_pct: ratios.map(({ value }) => rounded(value)),
    u_pct: ratios.map(({ u }) => rounded(u)),
  };
}

function describeBalance({ rightOverLeft, places, colour }: Balance) {
  return {
    right_over_left_pct: inPercent(rightOverLeft),
    places_pct: overPlaces((place) => inPercent(places[place])),
    colour: colour && { red_pct: inPercent(colour.red), blue_pct: inPercent(colour.blue) },
  };
}

function overPlaces<T>(of: (place: LightPlace) => T): Record<LightPlace, T> {
  return Object.fromEntries(LIGHT_PLACES.map((place) => [place, of(place)])) as Record<LightPlace, T>;
}

function inPercent(part: Measured): Measured {
  return scaleMeasured(part, 100);
}

function inBothUnits(cd_m2: Measured): { cd_m2: Measured; fL: Measured } {
  return { cd_m2, fL: scaleMeasured(cd_m2, 1 / CD_M2_PER_FOOTLAMBERT) };
}
