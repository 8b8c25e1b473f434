/**
 * The limits against which a reading is judged, each with its source.
 *
 * Angles are apparent angles at a seat. A prism dioptre (PD) is 1 cm at 1 m = 34.38 arcmin, so half of it is 17.2 and a
 * quarter 8.6 arcmin. For stretch, shear and keystone no published threshold is known; the vertical disparity that
 * they make is judged with the worst place in the picture.
 */
import { TERMS, type Term, type TermVector } from '../geometry/misalignment.ts';
import type { House } from '../record/house.ts';
import { describeViewing, lengthAtSeat } from './viewing.ts';

export const FINDING_CODES = [
  'eyes-exchanged',
  'no-polarization',
  'vertical-offset',
  'worst-vertical',
  'rotation',
  'size',
  'horizontal-offset',
  'crosstalk-left',
  'crosstalk-right',
  'local-ghost',
  'stray-image',
] as const;
export type FindingCode = (typeof FINDING_CODES)[number];

/** `working`: what to adjust to. `maximum`: beyond it the show suffers. */
export type Level = 'working' | 'maximum';
export type Unit = 'arcmin' | 'deg' | 'pct';

/** Where a limit comes from. `house`: the House file's own. */
export type Basis = 'published' | 'computed' | 'common-practice' | 'from-memory' | 'house';

export interface Tolerance {
  readonly code: FindingCode;
  readonly level: Level;
  readonly unit: Unit;
  readonly judgedAt: 'each-seat' | 'whole-picture';
  readonly limit: number;
  readonly source: string;
  readonly basis: Basis;
  /** What holds for negative values, where that is something else; its limit is a positive number too. */
  readonly below?: { readonly limit: number; readonly source: string; readonly basis: Basis };
}

/** What a limit that could not be confirmed is always shown with. */
export const UNCONFIRMED = 'from memory, unconfirmed';

const ONE_PD_ARCMIN = 34.4;
const HALF_PD_ARCMIN = 17.2;
const QUARTER_PD_ARCMIN = 8.6;
const PHOTOGRAPHY_BOOK = 'Three-Dimensional Photography - Principles of Stereoscopy (early 1950s), p. 82';
const CROSSTALK_STUDY = 'SID Digest 73.4, Investigation of crosstalk in a 2-view 3D display';

const each = { judgedAt: 'each-seat', unit: 'arcmin' } as const;
const whole = { judgedAt: 'whole-picture' } as const;

function crosstalk(code: 'crosstalk-left' | 'crosstalk-right' | 'local-ghost'): Tolerance[] {
  return [
    {
      code,
      level: 'working',
      unit: 'pct',
      ...whole,
      limit: 1,
      source: `${CROSSTALK_STUDY}: an increment of 1 % is visible`,
      basis: 'published',
    },
    {
      code,
      level: 'maximum',
      unit: 'pct',
      ...whole,
      limit: 5.8,
      source: `${CROSSTALK_STUDY}: 5.8 % is perceptible but not annoying`,
      basis: 'published',
    },
  ];
}

/** In the order in which findings are given: the eyes first, and of each quantity the closer limit first. */
export const TOLERANCES: readonly Tolerance[] = [
  {
    code: 'eyes-exchanged',
    level: 'maximum',
    unit: 'pct',
    ...whole,
    limit: 100,
    source: "definition: beyond 100 % the other eye's picture is the stronger one",
    basis: 'computed',
  },
  {
    code: 'no-polarization',
    level: 'maximum',
    unit: 'pct',
    ...whole,
    limit: 50,
    source: 'a screen that depolarizes completely gives 100 % (Malus); half of that is taken as the limit',
    basis: 'computed',
  },
  {
    code: 'vertical-offset',
    level: 'working',
    ...each,
    limit: QUARTER_PD_ARCMIN,
    source: `${PHOTOGRAPHY_BOOK}: a quarter prism dioptre, the working limit of practitioners`,
    basis: 'published',
  },
  {
    code: 'vertical-offset',
    level: 'maximum',
    ...each,
    limit: HALF_PD_ARCMIN,
    source: `${PHOTOGRAPHY_BOOK}: half a prism dioptre, the advised maximum`,
    basis: 'published',
  },
  {
    code: 'worst-vertical',
    level: 'working',
    ...each,
    limit: QUARTER_PD_ARCMIN,
    source: `${PHOTOGRAPHY_BOOK}: the working limit of the vertical offset, applied to the worst place in the picture`,
    basis: 'computed',
  },
  {
    code: 'worst-vertical',
    level: 'maximum',
    ...each,
    limit: HALF_PD_ARCMIN,
    source: `${PHOTOGRAPHY_BOOK}: the advised maximum of the vertical offset, applied to the worst place in the picture`,
    basis: 'computed',
  },
  {
    code: 'rotation',
    level: 'working',
    ...each,
    limit: QUARTER_PD_ARCMIN,
    source: `${PHOTOGRAPHY_BOOK}: the working limit of the vertical offset, applied to what the roll makes at the picture's sides`,
    basis: 'computed',
  },
  {
    code: 'rotation',
    level: 'maximum',
    unit: 'deg',
    ...whole,
    limit: 1,
    source: `Kooi and Toet 2004, Displays 25:99, onset of discomfort (${UNCONFIRMED})`,
    basis: 'from-memory',
  },
  {
    code: 'size',
    level: 'working',
    unit: 'pct',
    ...whole,
    limit: 0.5,
    source: 'Theatre Catalog 1953-54, 11th ed., p. 255: more than 0.5 % between the focal lengths strains the eyes',
    basis: 'published',
  },
  {
    // Positive (right-eye picture further right) is uncrossed: it adds to the parallax of what lies behind the screen
    // and beyond the separation of the eyes makes them diverge. Negative is crossed and brings everything nearer; the
    // published crossed limits are for the whole disparity, of which the film's own parallax needs the most.
    code: 'horizontal-offset',
    level: 'working',
    ...each,
    limit: HALF_PD_ARCMIN,
    source: `${PHOTOGRAPHY_BOOK}: half a prism dioptre of divergence is uncomfortable`,
    basis: 'published',
    below: {
      limit: HALF_PD_ARCMIN,
      source:
        'as much crossed as uncrossed, so that the parallax of the film keeps the rest of its range; no published limit',
      basis: 'computed',
    },
  },
  {
    code: 'horizontal-offset',
    level: 'maximum',
    ...each,
    limit: ONE_PD_ARCMIN,
    source: `${PHOTOGRAPHY_BOOK}: one prism dioptre of divergence is impossible for many`,
    basis: 'published',
    below: {
      limit: 60,
      source:
        'Lambooij et al. 2009, J. Imaging Sci. Technol. 53(3) 030201: up to 1 degree of disparity is of minor importance',
      basis: 'published',
    },
  },
  ...crosstalk('crosstalk-left'),
  ...crosstalk('crosstalk-right'),
  ...crosstalk('local-ghost'),
  {
    code: 'stray-image',
    level: 'working',
    unit: 'pct',
    ...whole,
    limit: 1,
    source: `${CROSSTALK_STUDY}: an increment of 1 % is visible, applied to a copy beside its picture; no published limit`,
    basis: 'computed',
  },
];

/** The table with the house's own limits in place of the working limits. */
export function tolerancesInForce(house: House['tolerances'] | undefined): readonly Tolerance[] {
  if (!house) return TOLERANCES;
  return TOLERANCES.map((row) => (row.level === 'working' ? replaceLimit(row, house) : row));
}

function replaceLimit(row: Tolerance, house: House['tolerances']): Tolerance {
  const basis = 'house';
  switch (row.code) {
    case 'vertical-offset':
    case 'worst-vertical':
    case 'rotation': {
      const own = house[row.code];
      return own ? { ...row, limit: own.limit_arcmin, source: own.source, basis } : row;
    }
    case 'horizontal-offset': {
      const own = house[row.code];
      if (!own) return row;
      const { limit_uncrossed_arcmin: limit, limit_crossed_arcmin, source } = own;
      return { ...row, limit, source, basis, below: { limit: limit_crossed_arcmin, source, basis } };
    }
    case 'stray-image':
      return row;
    default: {
      const own = row.code === 'size' ? house.size : house.crosstalk;
      return own ? { ...row, limit: own.limit_pct, source: own.source, basis } : row;
    }
  }
}

/**
 * The working limits expressed in the eight terms of the misalignment, for whoever decides what is worth a turn.
 *
 * With v the vertical disparity (ih) allowed at the worst place seen from the nearer seat, a term's limit is the amount
 * of it that alone makes v somewhere in the picture: roll and shear at the sides (aspect/2), stretch at the top (1/2),
 * keystone in a corner (aspect/4) or at the top (1/4). Size and horizontal offset have limits of their own.
 */

export interface TermLimits {
  /** ih, radians and fractions. The limit of the horizontal offset is that of uncrossed shifts. */
  readonly terms: TermVector;
  /** Crossed horizontal shifts (negative), as a positive number in ih. */
  readonly crossedHorizontal: number;
  readonly worstVertical: number;
}

export function limitTerms(house: House | undefined, aspect: number): TermLimits {
  const { distance_ih } = describeViewing(house, aspect);
  const distance = Math.min(distance_ih['nearest-row'], distance_ih['reference-seat']);
  const rows = tolerancesInForce(house?.tolerances);
  const working = (code: Tolerance['code']): Tolerance => rows.find((r) => r.code === code && r.level === 'working')!;
  const length = (code: Tolerance['code']) => lengthAtSeat(working(code).limit, distance);

  const worstVertical = length('worst-vertical');
  const horizontal = working('horizontal-offset');
  return {
    terms: {
      verticalOffset: Math.min(length('vertical-offset'), worstVertical),
      horizontalOffset: lengthAtSeat(horizontal.limit, distance),
      rotation: Math.min(length('rotation'), worstVertical) / (aspect / 2),
      size: working('size').limit / 100,
      stretch: worstVertical / 0.5,
      shear: worstVertical / (aspect / 2),
      keystoneH: worstVertical / (aspect / 4),
      keystoneV: worstVertical / 0.25,
    },
    crossedHorizontal: lengthAtSeat(horizontal.below?.limit ?? horizontal.limit, distance),
    worstVertical,
  };
}

/** Whether an amount of a term lies inside `part` of its limit. */
export function isInside(limits: TermLimits, term: Term, amount: number, part = 1): boolean {
  const limit = term === 'horizontalOffset' && amount < 0 ? limits.crossedHorizontal : limits.terms[term];
  return Math.abs(amount) <= part * limit;
}

/** The terms that make vertical disparity; the horizontal offset is the one that makes none. */
export const VERTICAL_TERMS: readonly Term[] = TERMS.filter((term) => term !== 'horizontalOffset');
