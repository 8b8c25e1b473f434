/** Lengths as the operator wants them: metric, or feet and inches. What is kept and measured stays metric. */
import type { Measured } from '../kernel/measured.ts';
import type { ReadingHouse } from '../record/reading.ts';
import type { ReportedField } from '../record/term-fields.ts';
import { formatFigures, formatGiven } from './numbers.ts';

export type Units = 'metric' | 'inch';

export const METRES_PER_FOOT = 0.3048;
export const MM_PER_INCH = 25.4;

/** A distance in the house: "6.5 m", "21.3 ft". */
export function formatDistance(metres: number, units: Units): string {
  return units === 'inch' ? `${formatGiven(round(metres / METRES_PER_FOOT))} ft` : `${formatGiven(metres)} m`;
}

/** A length on the screen or at the machine: "0.89 mm", "0.035 in". */
export function formatLength(millimetres: number, units: Units, figures = 2): string {
  return units === 'inch'
    ? `${formatFigures(millimetres / MM_PER_INCH, figures)} in`
    : `${formatFigures(millimetres, figures)} mm`;
}

/** Nobody sits to the hundredth of a foot. */
const round = (feet: number) => Math.round(10 * feet) / 10;

/**
 * What a term of the misalignment does where it does most: the largest displacement of one picture against the other
 * within the picture area, in percent of the picture height. Vertical for every term but the horizontal offset,
 * because vertical error is what tires the eyes.
 *
 *   d_y(x,y) = dy + rot x + size y - stretch y + shear x + keyH x y + keyV y^2,   |x| <= aspect/2, |y| <= 1/2
 */

/** Largest |d_y| (|d_x| for the horizontal offset) for one unit of the term's reported value. */
export function reachOfTerm(term: ReportedField, aspect: number): number {
  switch (term) {
    case 'vertical_offset_pct':
    case 'horizontal_offset_pct':
    case 'worst_vertical_pct':
      return 1;
    case 'rotation_deg':
      return ((100 * Math.PI) / 180) * (aspect / 2);
    case 'size_pct':
    case 'stretch_pct':
      return 1 / 2;
    case 'shear_pct':
      return aspect / 2;
    case 'keystone_h_pct':
      return aspect / 4;
    case 'keystone_v_pct':
      return 1 / 4;
  }
}

/** Percent of the picture height as millimetres on this screen; null where the screen's size is not known. */
export function millimetresOnScreen(pct: number, house: ReadingHouse): number | null {
  return house.picture_height_mm === null ? null : (pct / 100) * house.picture_height_mm;
}

/** Angle under which a displacement is seen from `distance_ih` picture heights, atan(d / distance), in arcminutes. */
export function arcminutesFrom(pct: number, distance_ih: number): number {
  return (Math.atan(pct / 100 / distance_ih) * 180 * 60) / Math.PI;
}

/**
 * A term in the unit that was asked for. Percent is as the reading has it (roll in degrees); lengths on the screen and arcminutes are
 * of the largest displacement that the term makes anywhere in the picture.
 */
export const TERM_UNITS = ['percent', 'lengths', 'arcminutes'] as const;
export type TermUnit = (typeof TERM_UNITS)[number];

interface Expressed {
  readonly value: number;
  readonly u: number;
  /** Where the reading has it. */
  readonly u_repeat?: number | undefined;
  readonly unit: '%' | '°' | 'mm' | 'in' | '′';
}

/** Null where the screen's size is not known, for lengths. */
export function expressTerm(
  field: ReportedField,
  { value, u, u_repeat }: Measured & { readonly u_repeat?: number | undefined },
  unit: TermUnit,
  house: ReadingHouse,
  distance_ih: number,
  units: Units,
): Expressed | null {
  if (unit === 'percent') return { value, u, u_repeat, unit: field === 'rotation_deg' ? '°' : '%' };
  const reach = reachOfTerm(field, house.aspect);
  if (unit === 'lengths') {
    const millimetres = millimetresOnScreen(1, house);
    if (millimetres === null) return null;
    const perPercent = reach * (units === 'inch' ? millimetres / MM_PER_INCH : millimetres);
    const scaled = (each: number) => each * Math.abs(perPercent);
    return {
      value: value * perPercent,
      u: scaled(u),
      u_repeat: u_repeat && scaled(u_repeat),
      unit: units === 'inch' ? 'in' : 'mm',
    };
  }
  const angle = arcminutesFrom(value * reach, distance_ih);
  const tangent = (value * reach) / 100 / distance_ih;
  const seen = (each: number) => arcminutesFrom(each * reach, distance_ih) / (1 + tangent * tangent);
  return { value: angle, u: seen(u), u_repeat: u_repeat && seen(u_repeat), unit: '′' };
}
