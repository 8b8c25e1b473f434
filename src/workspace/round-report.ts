/** The report of a round as one HTML file: with the light of its very photographs, and what checks have shown since. */
import type { Outcome } from '../contract/failures.ts';
import type { Paper } from '../contract/logbook.ts';
import type { Round, Workspace } from '../contract/workspace.ts';
import type { Engine } from '../engine/engine.ts';
import type { EvennessRecord } from '../record/evenness.ts';
import { LENS_ROLES, type LensRole } from '../record/roles.ts';
import { composeReadingReport } from '../services/reports.ts';
import { translateFailure } from '../wording/failures.ts';
import { knownAnswers, applyAnswers } from './cause-service.ts';
import type { CurrentState } from './current-state.ts';
import type { PhotographStore } from './photograph-store.ts';
import type { ReadingStore } from './reading-store.ts';

export interface ReportedWork {
  readonly state: CurrentState;
  readonly readings: ReadingStore;
  readonly photographs: PhotographStore;
  readonly engine: Engine;
}

export async function composeRoundReport(
  { state, readings, photographs, engine }: ReportedWork,
  number: number,
  paper?: Paper,
): Promise<Outcome<string>> {
  const round = state.now.rounds.find((each) => each.number === number);
  const reading = round && (await readings.read(number));
  if (!round || !reading) return { ok: false, failure: translateFailure('no-such-round') };
  const [left, right] = await Promise.all(LENS_ROLES.map((role) => photographs.find(round.shots[role])));
  const answered = knownAnswers(round);
  const request = {
    reading: answered.length > 0 ? { ...reading, ...applyAnswers(reading, state.now.house, answered) } : reading,
    at: round.at,
    photographs: left !== undefined && right !== undefined ? { left, right } : undefined,
    options: { paper, answered, light: lightOfRound(round, state.now) },
  };
  return { ok: true, value: await composeReadingReport(request, (pictures) => engine.run('draw-pictures', pictures)) };
}

/** The light that was measured of the very photographs of a round. */
function lightOfRound({ shots }: Round, { light }: Pick<Workspace, 'light'>): EvennessRecord | undefined {
  const evenness = light?.evenness;
  if (evenness?.outcome !== 'measured' || evenness.subject !== 'target') return undefined;
  const isOf = (role: LensRole) => evenness.shots.some((shot) => shot.role === role && shot.sha256 === shots[role]);
  return LENS_ROLES.every(isOf) ? evenness : undefined;
}
