/** What checks have shown since a round was measured, and the causes weighed again with it. Nothing is measured again. */
import { answerChecks } from '../application/pair/describe-causes.ts';
import type { Outcome } from '../contract/failures.ts';
import type { CheckAnswer, Round, Workspace } from '../contract/workspace.ts';
import type { House } from '../record/house.ts';
import type { Diagnosis } from '../record/diagnosis.ts';
import type { Reading } from '../record/reading.ts';
import { CHECK_CODES, listAnswers } from '../wording/causes.ts';
import { translateFailure } from '../wording/failures.ts';
import { translateDiagnosis } from '../wording/reading.ts';
import type { CurrentState } from './current-state.ts';
import type { ReadingStore } from './reading-store.ts';

interface Kept {
  readonly state: CurrentState;
  readonly readings: ReadingStore;
}

interface GivenAnswer {
  readonly round: number;
  readonly check: string;
  readonly answer: string | null;
}

/** A check answered again has its last answer. */
export async function answerCheck(
  { state }: Kept,
  { round: number, check, answer }: GivenAnswer,
): Promise<Outcome<Workspace>> {
  if (!state.now.rounds.some((round) => round.number === number)) {
    return { ok: false, failure: translateFailure('no-such-round', { round: number }) };
  }
  if (answer !== null && !isKnown({ check, answer })) {
    return {
      ok: false,
      failure: translateFailure('invalid-input', { detail: `${check}: ${answer}` }),
    };
  }
  return state.change((before) => ({
    ...before,
    rounds: before.rounds.map((round) => {
      if (round.number !== number) return round;
      const others = (round.check_answers ?? []).filter((given) => given.check !== check);
      return { ...round, check_answers: answer === null ? others : [...others, { check, answer }] };
    }),
  }));
}

export async function updateCauses({ state, readings }: Kept, number: number): Promise<Outcome<Diagnosis>> {
  const round = state.now.rounds.find((listed) => listed.number === number);
  const reading = round && (await readings.read(number));
  if (!reading) {
    return { ok: false, failure: translateFailure(round ? 'reading-missing' : 'no-such-round', { round: number }) };
  }
  return { ok: true, value: applyAnswers(reading, state.now.house, knownAnswers(round)) };
}

/** Answers that another version of the program knew tell this one nothing. */
export function knownAnswers({ check_answers = [] }: Pick<Round, 'check_answers'>): readonly CheckAnswer[] {
  return check_answers.filter(isKnown);
}

/** `answers`: known ones. */
export function applyAnswers(reading: Reading, house: House | null, answers: readonly CheckAnswer[]): Diagnosis {
  const weighed = answerChecks(reading, house ?? undefined, answers as Parameters<typeof answerChecks>[2]);
  return translateDiagnosis(reading, weighed);
}

function isKnown({ check, answer }: CheckAnswer): boolean {
  return CHECK_CODES.includes(check) && listAnswers(check).some((known) => known.answer === answer);
}
