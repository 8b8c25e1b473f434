/**
 * What standards and practice ask of the light on the screen, each with its source.
 *
 * A luminance is asked for at the centre of the screen in cd/m2; evenness as a part of the centre; balance as what the
 * darker eye's picture lacks, as a part of the brighter one. The standards differ in how they measure, and say so
 * themselves, so a value is only comparable where place, seat and method are.
 */
export type LightLimitCode =
  | 'centre-film-open-gate'
  | 'centre-film-older-british'
  | 'centre-digital'
  | 'at-the-eye'
  | 'edge-film'
  | 'sides-digital'
  | 'balance-comfort'
  | 'balance-depth';

export type LightLimitBasis = 'published' | 'as-reported' | 'from-memory';

export interface LightLimit {
  readonly code: LightLimitCode;
  readonly quantity: 'luminance_cd_m2' | 'part_of_centre' | 'part_of_brighter_eye';
  readonly least: number;
  readonly nominal: number | null;
  readonly most: number | null;
  readonly source: string;
  readonly basis: LightLimitBasis;
}

export const LIGHT_LIMITS: readonly LightLimit[] = [
  {
    code: 'centre-film-open-gate',
    quantity: 'luminance_cd_m2',
    least: 48,
    nominal: 55,
    most: 62,
    source: 'SMPTE RP 51-1995 quoting ANSI/SMPTE 196M, SMPTE EG 3-1994 clause 4.1: 16 +- 2 fL, 55 +- 7 cd/m2',
    basis: 'published',
  },
  {
    code: 'centre-film-older-british',
    quantity: 'luminance_cd_m2',
    least: 27,
    nominal: null,
    most: 55,
    source: 'ISO 2895/2910 family as told in American Cinematographer, Talking Technically: 8 to 16 fL',
    basis: 'published',
  },
  {
    code: 'centre-digital',
    quantity: 'luminance_cd_m2',
    least: 37.8,
    nominal: 48,
    most: 58.2,
    source: 'ISO 26431-1:2008: 48 cd/m2, +- 10.2 cd/m2 in theatres',
    basis: 'as-reported',
  },
  {
    code: 'at-the-eye',
    quantity: 'luminance_cd_m2',
    least: 15.4,
    nominal: 15.4,
    most: null,
    source: 'trade reports of 2009: stereo mastered for 4.5 fL at the eye, against 14 fL without glasses',
    basis: 'as-reported',
  },
  {
    code: 'edge-film',
    quantity: 'part_of_centre',
    least: 0.75,
    nominal: null,
    most: null,
    source: 'SMPTE EG 3-1994 clause 4.2: edges within 75 % of the centre, no hot spots',
    basis: 'published',
  },
  {
    code: 'sides-digital',
    quantity: 'part_of_centre',
    least: 0.75,
    nominal: 0.85,
    most: 0.9,
    source: 'ISO 26431-1:2008: sides 85 %, 75 to 90 % in theatres',
    basis: 'as-reported',
  },
  {
    code: 'balance-comfort',
    quantity: 'part_of_brighter_eye',
    least: 0,
    nominal: 0,
    most: 0.25,
    source: 'Kooi and Toet 2004, Displays 25:99: onset of discomfort at about 25 % between the eyes',
    basis: 'from-memory',
  },
  {
    code: 'balance-depth',
    quantity: 'part_of_brighter_eye',
    least: 0,
    nominal: 0,
    most: 0.6,
    source:
      'Patterson, Boydstun, Rogers and Tripp 2009, SID Digest 54.4: depth survives up to 60 % between the eyes, above 0.63 cd/m2',
    basis: 'published',
  },
];

export function lightLimit(code: LightLimitCode): LightLimit {
  return LIGHT_LIMITS.find((limit) => limit.code === code)!;
}

/** Where a value lies, without regard to its uncertainty; the verdict is for the findings. */
export function placeInLimit(limit: LightLimit, value: number): 'below' | 'within' | 'above' {
  if (value < limit.least) return 'below';
  return limit.most !== null && value > limit.most ? 'above' : 'within';
}
