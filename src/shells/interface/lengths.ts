/** Lengths as the operator wants them: metric, or feet and inches. What is kept and measured stays metric. */
import type { Settings } from '../../contract/workspace.ts';
import { formatFigures, formatGiven } from '../../wording/numbers.ts';

export type Units = Settings['units'];

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
