/** What stays, and why no adjustment brings a term inside its limit. */
import type { ReadingIncurable } from '../../record/reading.ts';
import { REPORTED_FIELDS } from '../../record/term-fields.ts';
import { wordTerm } from './terms.ts';

const REASONS: Readonly<Record<string, string>> = {};

export const INCURABLE_REASONS: readonly string[] = Object.keys(REASONS);

/** Throws on an unknown code, as `wordRefusal` does. */
export function wordIncurable(code: string): string {
  const words = REASONS[code];
  if (!words) throw new RangeError(`no wording for the reason "${code}"`);
  return words;
}

/** "The right-eye picture is 0.6 % too large." */
export function wordIncurableTerm({ term, value }: ReadingIncurable): string {
  const field = REPORTED_FIELDS.find((name) => name === term);
  if (!field) throw new RangeError(`no wording for the term "${term}"`);
  return `The right-eye picture ${wordTerm(field, value)}.`;
}
