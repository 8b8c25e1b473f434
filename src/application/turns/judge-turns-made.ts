/** Whether the turns made between two readings did what the house says they do, with names and units of the reading. */
import type { Measured } from '../../kernel/measured.ts';
import { limitTerms } from '../../limits/tolerances.ts';
import type { House } from '../../record/house.ts';
import type { UnwordedMeasured } from '../../record/reading.ts';
import type { TermField } from '../../record/term-fields.ts';
import { describeOptics } from '../../turns/effects.ts';
import { judgeTurns, type TurnsVerdict } from '../../turns/judge-turns.ts';
import { makeLever } from '../../turns/turns-problem.ts';
import { fieldOf, repeatableTermsOf, toFileUnit } from '../pair/terms-of-reading.ts';
import type { MadeTurn } from './move-adjustments.ts';

export interface TurnsOutcome {
  readonly verdict: TurnsVerdict;
  /** How much of the expected change came: 1 is all of it, below 0 it went the other way; null where none was expected. */
  readonly part: Measured | null;
  /** The strongest first, in the unit of the term's name; `expected` is null where an effect is not known. */
  readonly changes: readonly {
    readonly term: TermField;
    readonly expected: Measured | null;
    readonly found: Measured;
    readonly is_unexpected: boolean;
  }[];
}

type Compared = Pick<UnwordedMeasured, 'misalignment' | 'house'>;

/** Null where nothing was turned. What was turned must be in the house as it was when the turns were advised. */
export function judgeTurnsMade(
  before: Compared,
  after: Compared,
  house: House | null,
  made: readonly MadeTurn[],
): TurnsOutcome | null {
  if (made.length === 0) return null;
  const adjustments = house?.attachment?.adjustments ?? [];
  const turned = made.flatMap(({ adjustment: id, direction, turns }) => {
    const adjustment = adjustments.find((each) => each.id === id);
    if (!house || !adjustment || adjustment.kind === 'unknown') return [];
    const signed = direction === 'clockwise' ? turns : -turns;
    return [{ lever: makeLever(adjustment, describeOptics(house)), turns: signed }];
  });
  const isAllKnown = turned.length === made.length;
  const judged = judgeTurns({
    before: repeatableTermsOf(before),
    after: repeatableTermsOf(after),
    turned: isAllKnown ? turned : [],
    limits: limitTerms(house ?? undefined, after.house.aspect).terms,
  });
  return {
    verdict: judged.verdict,
    part: judged.part,
    changes: judged.changes.map(({ term, expected, found, isUnexpected }) => {
      const inFileUnit = ({ value, u }: Measured) => ({ value: toFileUnit(term, value), u: toFileUnit(term, u) });
      return {
        term: fieldOf(term),
        expected: isAllKnown ? inFileUnit(expected) : null,
        found: inFileUnit(found),
        is_unexpected: isAllKnown && isUnexpected,
      };
    }),
  };
}
