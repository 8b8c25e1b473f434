/**
 * Answers of checks as further observations, and the check whose answer is worth most.
 *
 *   after an answer:  p(h | answer) ~ p(h) p(answer | h)
 *   gain of a check:  sum over answers  p(answer) * sum over h  p(h | answer) log2( p(h | answer) / p(h) )     (bits)
 *
 * Checks whose gains differ by less than `ALIKE_BITS` are taken as alike, and the one with the least effort and danger
 * is chosen: nobody is sent up a ladder for what a seat in the house tells as well.
 */
import type { CauseCode, CheckCode } from './cause-codes.ts';
import { answerChances, CHECK_ROWS, type CheckRow } from './check-table.ts';

export interface CheckAnswer {
  readonly check: CheckCode;
  readonly answer: string;
}

export interface Weighed {
  readonly codes: readonly CauseCode[];
  readonly weight: number;
}

export interface ChosenCheck {
  readonly code: CheckCode;
  readonly gain_bits: number;
}

export const ALIKE_BITS = 0.15;
/** A check that tells less than this is not worth the way. */
export const LEAST_BITS = 0.05;

/** What is known of the hypotheses after the answers. Throws RangeError for an answer that the table does not have. */
export function applyAnswers<H extends Weighed>(hypotheses: readonly H[], answers: readonly CheckAnswer[]): H[] {
  let weighed = hypotheses.map((hypothesis) => hypothesis);
  for (const { check, answer } of answers) {
    const row = CHECK_ROWS.find(({ code }) => code === check);
    const index = row?.answers.indexOf(answer) ?? -1;
    if (!row || index < 0) throw new RangeError(`no answer "${answer}" to the check "${check}"`);
    weighed = normalise(weighed.map((h) => ({ ...h, weight: h.weight * answerChances(row, h.codes)[index]! })));
  }
  return weighed;
}

function normalise<H extends Weighed>(hypotheses: readonly H[]): H[] {
  const sum = hypotheses.reduce((total, { weight }) => total + weight, 0);
  return hypotheses.map((h) => ({ ...h, weight: h.weight / sum }));
}

/** Expected gain of information of a check, bits. */
export function gainOf(check: CheckRow, hypotheses: readonly Weighed[]): number {
  const seen = hypotheses.filter(({ weight }) => weight > 0);
  const chances = seen.map(({ codes }) => answerChances(check, codes));
  return check.answers.reduce((gain, _, k) => {
    const total = seen.reduce((sum, { weight }, i) => sum + weight * chances[i]![k]!, 0);
    if (total <= 0) return gain;
    return seen.reduce((sum, { weight }, i) => {
      const joint = weight * chances[i]![k]!;
      return joint > 0 ? sum + joint * Math.log2(chances[i]![k]! / total) : sum;
    }, gain);
  }, 0);
}

/** The check that tells most, leaving out those already answered; undefined where none is worth the way. */
export function chooseCheck(
  hypotheses: readonly Weighed[],
  field: CheckRow['field'],
  answered: readonly CheckCode[] = [],
): ChosenCheck | undefined {
  const gains = CHECK_ROWS.filter((row) => row.field === field && !answered.includes(row.code)).map((row) => ({
    row,
    gain_bits: gainOf(row, hypotheses),
  }));
  const most = Math.max(0, ...gains.map(({ gain_bits }) => gain_bits));
  if (most < LEAST_BITS) return undefined;
  const alike = gains.filter(({ gain_bits }) => gain_bits >= Math.max(LEAST_BITS, most - ALIKE_BITS));
  const easiest = Math.min(...alike.map(({ row }) => row.effort));
  const [best] = alike.filter(({ row }) => row.effort === easiest).toSorted((a, b) => b.gain_bits - a.gain_bits);
  return best && { code: best.row.code, gain_bits: best.gain_bits };
}
