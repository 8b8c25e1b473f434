/** What is wrong with a field and what is allowed, in the units that are shown. */
import { isMessageKey, translate } from '../../../../wording/translate.ts';
import type { FieldProblem, FieldRange } from './check-draft.ts';
import { type Quantity, shownAs, type Units } from './units.ts';

export function formatProblem({ code, range }: FieldProblem, quantity: Quantity | 'text', units: Units): string {
  const key = `house.problem-${code}`;
  const what = isMessageKey(key) ? translate(key) : translate('house.problem-not-allowed');
  const allowed = quantity === 'text' ? undefined : formatRange(range, quantity, units);
  return allowed === undefined ? what : `${what} ${allowed}`;
}

export function formatRange(range: FieldRange | undefined, quantity: Quantity, units: Units): string | undefined {
  if (range === undefined) return undefined;
  const { least, most, isAbove } = range;
  const unit = formatUnit(quantity, units);
  const text = (value: number, round: (value: number) => number) =>
    [roundInwards(value / shownAs(quantity, units).factor, round), unit].filter((part) => part !== undefined).join(' ');
  if (most === undefined)
    return least === undefined ? undefined : translate('house.range-least', { least: text(least, Math.ceil) });
  if (least === undefined) return translate('house.range-most', { most: text(most, Math.floor) });
  const ends = { least: text(least, Math.ceil), most: text(most, Math.floor) };
  return translate(isAbove ? 'house.range-above' : 'house.range-between', ends);
}

/** To four digits, and never to a value that lies outside. */
function roundInwards(value: number, round: (value: number) => number): number {
  if (value === 0) return 0;
  const unit = 10 ** (Math.floor(Math.log10(Math.abs(value))) - 3);
  // What differs from a round number by the noise of the conversion alone is that number.
  const steps = Number((value / unit).toPrecision(12));
  return Number((round(steps) * unit).toPrecision(6));
}

/** The unit as it stands behind a number; undefined for plain numbers. */
export function formatUnit(quantity: Quantity, units: Units): string | undefined {
  const { unit } = shownAs(quantity, units);
  return unit === 'none' ? undefined : translate(`house.unit-${unit}`);
}
