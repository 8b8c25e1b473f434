/**
 * Which terms are worth a turn.
 *
 * Nothing is turned while everything is within its working limit. When something is not, the terms beyond half their
 * limit are corrected too; where the worst place in the picture is not within, so are the smaller ones that make
 * vertical disparity there. A value below twice its uncertainty could be nothing and is left alone.
 */
import { judgeValue } from '../limits/judge.ts';
import { isInside, type TermLimits, VERTICAL_TERMS } from '../limits/term-limits.ts';
import { type Misalignment, TERMS, type Term } from '../geometry/misalignment.ts';

const DEAD_BAND = 0.5;
/** With several small terms adding up, those below a tenth of the limit are still not worth a screw. */
const CONTRIBUTION = 0.1;

export function termsWorthATurn(
  { terms, worstVertical }: Pick<Misalignment, 'terms' | 'worstVertical'>,
  limits: TermLimits,
): Term[] {
  const worstIsWithin = judgeValue(worstVertical, limits.worstVertical) === 'within';
  const allWithin = TERMS.every((term) => {
    const below = term === 'horizontalOffset' ? limits.crossedHorizontal : limits.terms[term];
    return judgeValue(terms[term], limits.terms[term], below) === 'within';
  });
  if (allWithin && worstIsWithin) return [];
  return TERMS.filter((term) => {
    const { value, u } = terms[term];
    if (Math.abs(value) <= 2 * u) return false;
    const contributes = !worstIsWithin && VERTICAL_TERMS.includes(term);
    return !isInside(limits, term, value, contributes ? CONTRIBUTION : DEAD_BAND);
  });
}
