/** Between the terms that the rooms calculate with (ih, radians, fractions) and those of a reading (percent, degrees). */
import { TERMS, type Term } from '../../geometry/misalignment.ts';
import { degreesFromRadians, radiansFromDegrees } from '../../kernel/angles.ts';
import type { Measured } from '../../kernel/measured.ts';
import type { UnwordedMeasured } from '../../record/reading.ts';
import { TERM_FIELDS, type TermField } from '../../record/term-fields.ts';

export function termsOfReading({ misalignment }: Pick<UnwordedMeasured, 'misalignment'>): Record<Term, Measured> {
  return Object.fromEntries(
    TERMS.map((term) => {
      const { value, u } = misalignment[fieldOf(term)];
      return [term, { value: fromFileUnit(term, value), u: fromFileUnit(term, u) }];
    }),
  ) as Record<Term, Measured>;
}

/** With what changes from one set of photographs to the next alone: what two readings are compared by. */
export function repeatableTermsOf({ misalignment }: Pick<UnwordedMeasured, 'misalignment'>): Record<Term, Measured> {
  return Object.fromEntries(
    TERMS.map((term) => {
      const { value, u, u_repeat = u } = misalignment[fieldOf(term)];
      return [term, { value: fromFileUnit(term, value), u: fromFileUnit(term, u_repeat) }];
    }),
  ) as Record<Term, Measured>;
}

export function fieldOf(term: Term): TermField {
  return TERM_FIELDS[TERMS.indexOf(term)]!;
}

/** Degrees for the rotation, percent for everything else. */
export function toFileUnit(term: Term, value: number): number {
  return term === 'rotation' ? degreesFromRadians(value) : 100 * value;
}

function fromFileUnit(term: Term, value: number): number {
  return term === 'rotation' ? radiansFromDegrees(value) : value / 100;
}
