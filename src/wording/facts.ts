/** The facts behind a code, and how they enter a sentence. */
import { formatFigures } from './numbers.ts';

export type Facts = Readonly<Record<string, number | string>>;
export type RefusedShot = 'left-lens' | 'right-lens' | 'closing' | 'bare' | null;

export interface RefusalWords {
  readonly message: string;
  readonly remedy: string;
}

export type RefusalWording = (facts: Facts, shot: RefusedShot) => RefusalWords;

const NAMES: Readonly<Record<Exclude<RefusedShot, null>, string>> = {
  'left-lens': 'The photograph through the left lens',
  'right-lens': 'The photograph through the right lens',
  closing: 'The closing photograph',
  bare: 'The photograph without glasses',
};

/** "The photograph through the left lens", or less when the shot is not known. */
export function nameShot(shot: RefusedShot): string {
  return shot === null ? 'A photograph' : NAMES[shot];
}

/** `before` + the number + `unit`, or nothing when the fact is missing. Counts stay whole. */
export function withNumber(facts: Facts, key: string, before: string, unit: string, figures = 2): string {
  const value = facts[key];
  return typeof value === 'number'
    ? `${before}${Number.isInteger(value) ? value : formatFigures(value, figures)}${unit}`
    : '';
}

/** `before` + the fact + `after`, or nothing when it is missing. */
export function withText(facts: Facts, key: string, before: string, after = ''): string {
  const value = facts[key];
  return value === undefined ? '' : `${before}${value}${after}`;
}
