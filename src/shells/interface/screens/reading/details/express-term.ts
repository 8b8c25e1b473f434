/**
 * A term in the unit that was asked for. Percent is as the reading has it (roll in degrees); lengths on the screen and arcminutes are
 * of the largest displacement that the term makes anywhere in the picture.
 */
import type { ReadingHouse } from '../../../../../record/reading.ts';
import type { ReportedField } from '../../../../../record/term-fields.ts';
import { arcminutesFrom, millimetresOnScreen, reachOfTerm } from '../../../../../report/displacement.ts';
import { MM_PER_INCH, type Units } from '../../../lengths.ts';

export const TERM_UNITS = ['percent', 'lengths', 'arcminutes'] as const;
export type TermUnit = (typeof TERM_UNITS)[number];

export interface Expressed {
  readonly value: number;
  readonly u: number;
  readonly unit: '%' | '°' | 'mm' | 'in' | '′';
}

/** Null where the screen's size is not known, for lengths. */
export function expressTerm(
  field: ReportedField,
  { value, u }: { readonly value: number; readonly u: number },
  unit: TermUnit,
  house: ReadingHouse,
  distance_ih: number,
  units: Units,
): Expressed | null {
  if (unit === 'percent') return { value, u, unit: field === 'rotation_deg' ? '°' : '%' };
  const reach = reachOfTerm(field, house.aspect);
  if (unit === 'lengths') {
    const millimetres = millimetresOnScreen(1, house);
    if (millimetres === null) return null;
    const perPercent = reach * (units === 'inch' ? millimetres / MM_PER_INCH : millimetres);
    return { value: value * perPercent, u: u * Math.abs(perPercent), unit: units === 'inch' ? 'in' : 'mm' };
  }
  const angle = arcminutesFrom(value * reach, distance_ih);
  const tangent = (value * reach) / 100 / distance_ih;
  return { value: angle, u: arcminutesFrom(u * reach, distance_ih) / (1 + tangent * tangent), unit: '′' };
}
