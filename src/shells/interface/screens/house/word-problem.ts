/** What is wrong with a field and what is allowed, in the units that are shown. */
import { isWorded, say } from '../../wording/say.ts';
import type { FieldProblem, FieldRange } from './check-draft.ts';
import { formatQuantity, type Quantity, shownAs, type Units } from './units.ts';

export function wordProblem({ code, range }: FieldProblem, quantity: Quantity | 'text', units: Units): string {
  const key = `house.problem-${code}`;
  const what = isWorded(key) ? say(key) : say('house.problem-not-allowed');
  const allowed = quantity === 'text' ? undefined : wordRange(range, quantity, units);
  return allowed === undefined ? what : `${what} ${allowed}`;
}

export function wordRange(range: FieldRange | undefined, quantity: Quantity, units: Units): string | undefined {
  if (range === undefined) return undefined;
  const { least, most, isAbove } = range;
  const unit = wordUnit(quantity, units);
  const text = (value: number | undefined) =>
    value === undefined ? '' : `${formatQuantity(value, quantity, units)}${unit === undefined ? '' : ` ${unit}`}`;
  if (most === undefined) return say('house.range-least', { least: text(least) });
  if (least === undefined) return say('house.range-most', { most: text(most) });
  return say(isAbove ? 'house.range-above' : 'house.range-between', { least: text(least), most: text(most) });
}

/** The unit as it stands behind a number; undefined for plain numbers. */
export function wordUnit(quantity: Quantity, units: Units): string | undefined {
  const { unit } = shownAs(quantity, units);
  return unit === 'none' ? undefined : say(`house.unit-${unit}`);
}
