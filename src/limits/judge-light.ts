/**
 * Judges light against what standards and practice ask of it.
 *
 *   within     the whole 95 % interval, value - 2u to value + 2u, lies between the bounds
 *   outside    the whole interval lies beyond one of them
 *   undecided  a bound lies inside the interval
 *
 * Evenness is judged by its darkest place; a luminance only where it was read as the limit means it.
 */
import { type Measured, scaleMeasured } from '../kernel/measured.ts';
import type { Balance } from '../light/balance-eyes.ts';
import type { Evenness } from '../light/evenness.ts';
import type { LightLimitBasis, LightLimitCode, LightPlace, LitPicture } from '../record/light-codes.ts';
import type { Verdict } from '../record/values.ts';

/**
 * What standards and practice ask of the light on the screen, each with its source.
 *
 * A luminance is asked for at the centre of the screen in cd/m2; evenness as a part of the centre; balance as what the
 * darker eye's picture lacks, as a part of the brighter one. The standards differ in how they measure, and say so
 * themselves, so a value is only comparable where place, seat and method are.
 */

export interface LightLimit {
  readonly code: LightLimitCode;
  readonly quantity: 'luminance_cd_m2' | 'part_of_centre' | 'part_of_brighter_eye';
  readonly min: number;
  readonly nominal: number | null;
  readonly max: number | null;
  readonly source: string;
  readonly basis: LightLimitBasis;
}

export const LIGHT_LIMITS: readonly LightLimit[] = [
  {
    code: 'centre-film-open-gate',
    quantity: 'luminance_cd_m2',
    min: 48,
    nominal: 55,
    max: 62,
    source: 'SMPTE RP 51-1995 quoting ANSI/SMPTE 196M, SMPTE EG 3-1994 clause 4.1: 16 +- 2 fL, 55 +- 7 cd/m2',
    basis: 'published',
  },
  {
    code: 'centre-film-older-british',
    quantity: 'luminance_cd_m2',
    min: 27,
    nominal: null,
    max: 55,
    source: 'ISO 2895/2910 family as told in American Cinematographer, Talking Technically: 8 to 16 fL',
    basis: 'published',
  },
  {
    code: 'centre-digital',
    quantity: 'luminance_cd_m2',
    min: 37.8,
    nominal: 48,
    max: 58.2,
    source: 'ISO 26431-1:2008: 48 cd/m2, +- 10.2 cd/m2 in theatres',
    basis: 'as-reported',
  },
  {
    code: 'at-the-eye',
    quantity: 'luminance_cd_m2',
    min: 15.4,
    nominal: 15.4,
    max: null,
    source: 'trade reports of 2009: stereo mastered for 4.5 fL at the eye, against 14 fL without glasses',
    basis: 'as-reported',
  },
  {
    code: 'edge-film',
    quantity: 'part_of_centre',
    min: 0.75,
    nominal: null,
    max: null,
    source: 'SMPTE EG 3-1994 clause 4.2: edges within 75 % of the centre, no hot spots',
    basis: 'published',
  },
  {
    code: 'sides-digital',
    quantity: 'part_of_centre',
    min: 0.75,
    nominal: 0.85,
    max: 0.9,
    source: 'ISO 26431-1:2008: sides 85 %, 75 to 90 % in theatres',
    basis: 'as-reported',
  },
  {
    code: 'balance-comfort',
    quantity: 'part_of_brighter_eye',
    min: 0,
    nominal: 0,
    max: 0.25,
    source: 'Kooi and Toet 2004, Displays 25:99: onset of discomfort at about 25 % between the eyes',
    basis: 'from-memory',
  },
  {
    code: 'balance-depth',
    quantity: 'part_of_brighter_eye',
    min: 0,
    nominal: 0,
    max: 0.6,
    source:
      'Patterson, Boydstun, Rogers and Tripp 2009, SID Digest 54.4: depth survives up to 60 % between the eyes, above 0.63 cd/m2',
    basis: 'published',
  },
];

export function lightLimit(code: LightLimitCode): LightLimit {
  return LIGHT_LIMITS.find((limit) => limit.code === code)!;
}

export interface LightFinding {
  readonly code: LightLimitCode;
  /** Null where it is of both eyes, or of no photograph. */
  readonly picture: LitPicture | null;
  readonly place: LightPlace | null;
  readonly verdict: Verdict;
  readonly value: number;
  readonly u: number;
  /** The bound that is nearer to the value. */
  readonly limit: number;
  readonly side: 'at-least' | 'at-most';
  readonly unit: 'pct' | 'cd_m2';
  readonly source: string;
  readonly basis: LightLimitBasis;
  readonly confirmed: boolean;
}

export interface JudgedPicture {
  readonly picture: LitPicture;
  readonly evenness: Evenness;
  /** Luminance in the centre as a meter read it, where it was read as a limit means it. */
  readonly centre: { readonly limit: 'centre-film-open-gate' | 'at-the-eye'; readonly cd_m2: Measured } | null;
}

/** `isLensKnown`: what the camera's lens takes from the corners was measured; where it was assumed, no edge is judged. */
export function judgeEvenness(
  pictures: readonly JudgedPicture[],
  balance: Balance | null,
  isLensKnown: boolean,
): LightFinding[] {
  const judgeEdge = (finding: LightFinding): LightFinding =>
    isLensKnown ? finding : { ...finding, verdict: 'undecided' };
  return [
    ...pictures.flatMap(({ picture, evenness: { darkest: least }, centre }) => [
      judgeEdge(judgeLimit('edge-film', least.ofCentre, picture, least.place)),
      ...(centre ? [judgeLimit(centre.limit, centre.cd_m2, picture, 'centre')] : []),
    ]),
    ...(balance ? judgeBalance(balance.rightOverLeft) : []),
  ];
}

/** What the darker eye's picture lacks, as a part of the brighter one. */
export function imbalanceOf({ value, u }: Measured): Measured {
  const darker = value < 1 ? value : 1 / value;
  return { value: 1 - darker, u: value < 1 ? u : u / value ** 2 };
}

function judgeBalance(rightOverLeft: Measured): LightFinding[] {
  const imbalance = imbalanceOf(rightOverLeft);
  return [judgeLimit('balance-comfort', imbalance, null, null), judgeLimit('balance-depth', imbalance, null, null)];
}

/** A luminance in cd/m2 or a part; parts are given in percent. */
export function judgeLimit(
  code: LightLimitCode,
  measured: Measured,
  picture: LitPicture | null,
  place: LightPlace | null,
): LightFinding {
  const limit = lightLimit(code);
  const isLuminance = limit.quantity === 'luminance_cd_m2';
  const scale = isLuminance ? 1 : 100;
  const side = nearerSide(limit, measured.value);
  return {
    code,
    picture,
    place,
    verdict: verdictOf(limit, measured),
    ...scaleMeasured(measured, scale),
    limit: scale * (side === 'at-least' ? limit.min : limit.max!),
    side,
    unit: isLuminance ? 'cd_m2' : 'pct',
    source: limit.source,
    basis: limit.basis,
    confirmed: limit.basis !== 'from-memory',
  };
}

function verdictOf({ quantity, min, max }: LightLimit, { value, u }: Measured): Verdict {
  // What lacks nothing lies at the lower bound itself, which is no limit there.
  const low = quantity === 'part_of_brighter_eye' ? Number.NEGATIVE_INFINITY : min;
  const high = max ?? Number.POSITIVE_INFINITY;
  const [from, to] = [value - 2 * u, value + 2 * u];
  if (from >= low && to <= high) return 'within';
  return to < low || from > high ? 'outside' : 'undecided';
}

function nearerSide({ quantity, min, max }: LightLimit, value: number): LightFinding['side'] {
  if (quantity === 'part_of_brighter_eye') return 'at-most';
  return max !== null && value > (min + max) / 2 ? 'at-most' : 'at-least';
}
