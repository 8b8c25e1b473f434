/** A round of the work -> an entry of the logbook, with everything that went into its reading. */
import type { Failure, Outcome } from '../contract/failures.ts';
import type { KeepRequest } from '../contract/logbook.ts';
import type { Round } from '../contract/workspace.ts';
import type { NewEntry } from '../logbook/logbook.ts';
import { keepEntry } from '../services/keep-entry.ts';
import { translateFailure } from '../wording/failures.ts';
import type { CurrentState } from './current-state.ts';
import type { PhotographStore } from './photograph-store.ts';
import type { ReadingStore } from './reading-store.ts';
import { turnsBetween } from './round-service.ts';
import { type LogbookService, refuseInWords, translateNotices } from './logbook-service.ts';

export interface KeptWork {
  readonly state: CurrentState;
  readonly photographs: PhotographStore;
  readonly readings: ReadingStore;
  readonly logbook: LogbookService;
}

export interface KeptRecord {
  readonly id: string;
  readonly notices: readonly Failure[];
}

export async function keepRound(request: KeepRequest, work: KeptWork): Promise<Outcome<KeptRecord>> {
  const described = await describeEntry(request, work);
  if (!described.ok) return described;
  const kept = await work.logbook.ask<KeptRecord>(async (logbook) => {
    const answer = await keepEntry(logbook, described.value);
    if (answer.outcome === 'refused') return refuseInWords(answer);
    return { ok: true, value: { id: answer.id, notices: translateNotices(answer.notices) } };
  });
  if (!kept.ok) return kept;
  const { id } = kept.value;
  // The entry is safe; that the list of rounds could not be told is a failure of its own, shown by the state.
  await work.state.change((before) => ({
    ...before,
    rounds: before.rounds.map((round) => (round.number === request.round ? { ...round, kept_as: id } : round)),
  }));
  return kept;
}

async function describeEntry(
  { round: number, operator, print, reel, note, follows, replaces }: KeepRequest,
  { state, photographs, readings }: KeptWork,
): Promise<Outcome<NewEntry>> {
  const { rounds } = state.now;
  const fail = (failure: Failure): Outcome<never> => ({ ok: false, failure });
  if (!rounds.some((round) => round.number === number)) return fail(translateFailure('no-such-round'));
  const reading = await readings.read(number);
  if (!reading) return fail(translateFailure('reading-missing', { round: number }));
  const facts = await readings.readFacts(number);
  if (!facts) return fail(translateFailure('round-without-facts', { round: number }));
  const shots: NewEntry['shots'][number][] = [];
  for (const { role, name, sha256 } of facts.shots) {
    const path = await photographs.find(sha256);
    if (path === undefined) return fail(translateFailure('photograph-missing', { name }));
    shots.push({ role, name, path });
  }
  const { house, aspect, wander_px, closing_wander_px } = facts;
  return {
    ok: true,
    value: {
      operator,
      print,
      reel,
      note,
      house,
      shots,
      reading,
      turns_made: turnsSince(rounds, follows, number),
      parameters: { aspect, wander_px, ...(closing_wander_px && { closing_wander_px }) },
      replaces,
      follows,
    },
  };
}

/** Turns between the round that was kept as the entry before and this one; none where that entry is of other work. */
function turnsSince(rounds: readonly Round[], follows: string | null, number: number) {
  const before = follows === null ? undefined : rounds.findLast(({ kept_as }) => kept_as === follows);
  return before && before.number < number ? turnsBetween(rounds, before.number, number) : [];
}
