/** The report of a round as one HTML file: with the light of its very photographs, and what checks have shown since. */

import type { Outcome } from '../contract/failures.ts';
import type { Paper } from '../contract/logbook.ts';
import type { Round, Workspace } from '../contract/workspace.ts';
import type { Engine } from '../engine/engine.ts';
import type { PrintPdf as Press } from '../pdf/print-pdf.ts';
import type { EvennessRecord } from '../record/evenness.ts';
import type { MeasuredReading } from '../record/reading.ts';
import { LENS_ROLES, type LensRole, type ShotRole } from '../record/roles.ts';
import { listShownShots } from '../record/shown-shots.ts';
import { composeReadingReport } from '../services/reports.ts';
import { translateFailure } from '../wording/failures.ts';
import { applyAnswers, knownAnswers } from './cause-service.ts';
import type { CurrentState } from './current-state.ts';
import type { PhotographStore } from './photograph-store.ts';
import type { ReadingStore } from './reading-store.ts';
import type { PrintPdf } from './work.ts';

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
  const found = reading.outcome === 'measured' ? await findShown(round, reading, photographs) : undefined;
  const answered = knownAnswers(round);
  const request = {
    reading: answered.length > 0 ? { ...reading, ...applyAnswers(reading, state.now.house, answered) } : reading,
    at: round.at,
    photographs: found,
    options: { paper, answered, light: lightOfRound(round, state.now) },
  };
  return { ok: true, value: await composeReadingReport(request, (pictures) => engine.run('draw-pictures', pictures)) };
}

/** Undefined where one of them is missing. */
async function findShown(
  { shots }: Round,
  reading: MeasuredReading,
  photographs: PhotographStore,
): Promise<{ role: ShotRole; path: string }[] | undefined> {
  const found: { role: ShotRole; path: string }[] = [];
  for (const shot of listShownShots(reading)) {
    if (!shot) return undefined;
    const { role, sha256 } = shot;
    const path = (await photographs.find(sha256)) ?? (await photographs.find(shots[role] ?? sha256));
    if (path === undefined) return undefined;
    found.push({ role, path });
  }
  return found;
}

/** The light that was measured of the very photographs of a round. */
function lightOfRound({ shots }: Round, { light }: Pick<Workspace, 'light'>): EvennessRecord | undefined {
  const evenness = light?.evenness;
  if (evenness?.outcome !== 'measured' || evenness.subject !== 'target') return undefined;
  const isOf = (role: LensRole) => evenness.shots.some((shot) => shot.role === role && shot.sha256 === shots[role]);
  return LENS_ROLES.every(isOf) ? evenness : undefined;
}

/** Printing as the work asks for it: what hinders it is a failure with its message. */
export function translatePrinting(press: Press): PrintPdf {
  return async (html): Promise<Outcome<Uint8Array>> => {
    const printing = await press(html);
    if (printing.outcome === 'printed') return { ok: true, value: printing.bytes };
    return { ok: false, failure: translateFailure(printing.code, printing.facts) };
  };
}
