/** The handlers of the contract's procedures. */
import type { Outcome } from '../contract/failures.ts';
import { EMPTY_LIGHT } from '../contract/light.ts';
import { type Checked, type Output, PROCEDURES, type ProcedureName } from '../contract/procedures.ts';
import type { Workspace } from '../contract/workspace.ts';
import { readHouse } from '../record/house.ts';
import { addNote } from '../services/keep-entry.ts';
import { translateFailure } from '../wording/failures.ts';
import { translateRefusal } from '../wording/refusals.ts';
import { archiveWork, clearArchived } from './archive.ts';
import { answerCheck, updateCauses } from './cause-service.ts';
import { type CurrentState, type StateChange, translateNotKept } from './current-state.ts';
import { type KeptRecord, type KeptWork, keepRound } from './keep-round.ts';
import type { LightService } from './light-service.ts';
import type { LiveService } from './live-service.ts';
import type { LogbookJobs } from './logbook-jobs.ts';
import { refuseInWords, translateNotices } from './logbook-service.ts';
import type { PhotographStore } from './photograph-store.ts';
import type { PolarizerService } from './polarizer-service.ts';
import type { ReadingStore } from './reading-store.ts';
import type { RoundService } from './round-service.ts';
import type { ShotService } from './shot-service.ts';
import { listFolders, type WatchService } from './watch-service.ts';
import { EMPTY_STATE } from './stored-state.ts';

export interface WorkServices {
  readonly folder: string;
  readonly state: CurrentState;
  readonly shots: ShotService;
  readonly rounds: RoundService;
  readonly readings: ReadingStore;
  readonly polarizers: PolarizerService;
  readonly light: LightService;
  readonly live: LiveService;
  readonly watching: WatchService;
  readonly now: () => Date;
}

/** All but the logbook's, which has its own. */
export function listProcedures(services: WorkServices): Omit<Handlers, `logbook.${string}`> {
  const { state, shots, rounds, readings, polarizers, light, live, watching } = services;
  return {
    'workspace.read': () => ({ ok: true, value: state.view() }),
    'workspace.start-over': () => startOver(services),
    'workspace.dismiss-notices': () => state.change((before) => ({ ...before, notices: [] })),
    'settings.change': (change) => {
      const given = Object.fromEntries(Object.entries(change).filter(([, value]) => value !== undefined));
      return state.change((before) => ({ ...before, settings: { ...before.settings, ...given } }));
    },

    'house.set': ({ house }) => changeTarget(services, (before) => ({ ...before, house })),
    'house.import': ({ json }) => {
      const read = readHouse(json);
      if (read.outcome === 'read') return changeTarget(services, (before) => ({ ...before, house: read.house }));
      return { ok: false, failure: { code: read.code, ...translateRefusal(read.code, read.facts, null) } };
    },
    'house.take-findings': () => rounds.takeFindings(),
    'aspect.set': ({ aspect }) => changeTarget(services, (before) => ({ ...before, aspect })),

    'shot.remove': ({ slot, sha256 }) => shots.remove(slot, sha256),
    'shots.photograph-again': () => shots.photographAgain(),
    'shots.exchange': () => shots.exchange(),

    'watch.start': ({ folder }) => watching.start(folder),
    'watch.stop': () => watching.stop(),
    'folders.list': ({ folder }) => listFolders(folder),

    'measure.start': () => rounds.start(),
    'job.cancel': ({ job }) =>
      state.jobs.cancel(job)
        ? { ok: true, value: state.view() }
        : { ok: false, failure: translateFailure('no-such-job') },

    'round.read': async ({ round }) => {
      const isListed = state.now.rounds.some(({ number }) => number === round);
      const reading = isListed ? await readings.read(round) : undefined;
      if (reading) return { ok: true, value: reading };
      return { ok: false, failure: translateFailure(isListed ? 'reading-missing' : 'no-such-round', { round }) };
    },
    'round.note-turns': ({ round, turns_made }) => rounds.noteTurns(round, turns_made),
    'round.answer-check': (given) => answerCheck(services, given),
    'round.update-causes': ({ round }) => updateCauses(services, round),
    'learned.take': () => rounds.takeLearned(),
    'learned.forget': () => rounds.forgetLearned(),

    'polarizers.change-setting': (change) => polarizers.setting(change),
    'polarizers.set-turn': ({ id, turn_deg }) => polarizers.setTurn(id, turn_deg),
    'polarizers.move': ({ id, by }) => polarizers.move(id, by),
    'polarizers.remove': ({ id }) => polarizers.remove(id),
    'polarizers.clear-series': () => polarizers.clearSeries(),
    'polarizers.exchange-ports': () => polarizers.exchangePorts(),
    'polarizers.find-null': () => polarizers.findNull(),
    'polarizers.compare-ports': () => polarizers.comparePorts(),

    'light.set-subject': ({ subject }) => light.setSubject(subject),
    'light.set-meter': ({ meter }) => light.setMeter(meter),
    'light.remove': ({ role }) => light.remove(role),
    'light.take-shots': () => light.takeShots(),
    'light.measure': () => light.measure(),
    'light.default-chain': ({ start, from_metallic_screen }) => ({
      ok: true,
      value: light.usual(start, from_metallic_screen),
    }),
    'light.compute-budget': ({ chain }) => light.reckon(chain),

    'live.capture': async (order) => {
      await live.begin(order);
      return { ok: true, value: {} };
    },
    'live.stop': async () => {
      await live.stop();
      return { ok: true, value: {} };
    },
  };
}

/** Photographs are looked at again where the change means another target; otherwise the last round follows the house. */
async function changeTarget({ state, shots, rounds }: WorkServices, change: StateChange): Promise<Outcome<Workspace>> {
  const { aspect } = state;
  const { house } = state.now;
  const changed = await state.change(change);
  if (changed.ok && state.aspect !== aspect) return shots.examineAgain();
  if (changed.ok && state.now.house !== house) rounds.followHouse();
  return changed;
}

async function startOver({ folder, state, shots, readings, now }: WorkServices): Promise<Outcome<Workspace>> {
  shots.forgetExaminations();
  // What is done in the logbook does not belong to the work that is put away.
  await state.jobs.cancelAll((kind) => !kind.startsWith('logbook-'));
  let place: string;
  try {
    place = await archiveWork(folder, state.now, now());
  } catch (error) {
    return { ok: false, failure: translateNotKept(error) };
  }
  state.jobs.clear();
  const begun = await state.change(({ revision, house, aspect, settings, logbook_folder, light, learned }) => ({
    ...EMPTY_STATE,
    revision,
    house,
    aspect,
    settings,
    logbook_folder,
    // What its rounds have shown of the attachment is the house's as well.
    ...(learned && { learned: { saved: learned.now, now: learned.now, until: 0 } }),
    // The light chain is the house's; what was photographed is not.
    ...(light?.chain ? { light: { ...EMPTY_LIGHT, chain: light.chain } } : {}),
  }));
  if (!begun.ok) return begun;
  await clearArchived(folder, place);
  await readings.countFrom([]);
  return { ok: true, value: state.view() };
}

/** A call by name with any input -> the answer of its handler. What is not as the contract says never reaches one. */
export type Handlers = {
  readonly [P in ProcedureName]: (input: Checked<P>) => Outcome<Output<P>> | Promise<Outcome<Output<P>>>;
};

export async function answerCall(handlers: Handlers, name: string, input: unknown): Promise<Outcome<unknown>> {
  if (!isProcedure(name)) return { ok: false, failure: translateFailure('unknown-procedure') };
  const checked = PROCEDURES[name].input.safeParse(input);
  if (checked.success) return (handlers[name] as (input: unknown) => Promise<Outcome<unknown>>)(checked.data);
  if (name === 'house.set') {
    const refused = refuseHouse((input as { house?: unknown } | null)?.house);
    if (refused) return refused;
  }
  const [issue] = checked.error.issues;
  const detail = [issue?.path.join('.'), issue?.message].filter(Boolean).join(', ');
  return { ok: false, failure: translateFailure('invalid-input', { detail }) };
}

function isProcedure(name: string): name is ProcedureName {
  return Object.hasOwn(PROCEDURES, name);
}

/** Why a house cannot be used, in the words of the command line; undefined where it can. */
function refuseHouse(house: unknown): Outcome<never> | undefined {
  const read = readHouse(house);
  return read.outcome === 'refused'
    ? { ok: false, failure: { code: read.code, ...translateRefusal(read.code, read.facts, null) } }
    : undefined;
}

/** The handlers of the contract's procedures on the logbook. */
type LogbookHandlers = Pick<Handlers, Extract<keyof Handlers, `logbook.${string}`>>;

export function listLogbookProcedures(work: KeptWork, jobs: LogbookJobs): LogbookHandlers {
  const { logbook, photographs } = work;
  return {
    'logbook.read': () => logbook.overview(),
    'logbook.choose-folder': (order) => logbook.chooseFolder(order),
    'logbook.keep': (order) => keepRound(order, work) as Promise<Outcome<never>>,
    'logbook.list': (query) => logbook.list(query),
    'logbook.show': ({ id }) => logbook.show(id),
    'logbook.add-note': async ({ entry, by, note, photographs: named }) => {
      const given = await findWaiting(named, photographs);
      if (!given.ok) return given;
      const kept = await logbook.ask<KeptRecord>(async (open) => {
        const answer = await addNote(open, { entry, by, note, photographs: given.value });
        if (answer.outcome === 'refused') return refuseInWords(answer);
        return { ok: true, value: { id: answer.id, notices: translateNotices(answer.notices) } };
      });
      return kept as Outcome<never>;
    },
    'logbook.compare': ({ before, after }) => logbook.compare(before, after),
    'logbook.trends': ({ horizon_days, ...query }) => logbook.trends(query, horizon_days),
    'logbook.verify': ({ is_quick }) => jobs.verify(is_quick),
    'logbook.export': ({ id }) => jobs.export(id),
    'logbook.result': ({ job }) => jobs.result(job),
  };
}

interface Named {
  readonly sha256: string;
  readonly name: string;
}

async function findWaiting(
  named: readonly Named[],
  folder: PhotographStore,
): Promise<Outcome<{ path: string; name: string }[]>> {
  const found: { path: string; name: string }[] = [];
  for (const { sha256, name } of named) {
    const path = await folder.find(sha256);
    if (path === undefined) return { ok: false, failure: translateFailure('photograph-missing', { name }) };
    found.push({ path, name });
  }
  return { ok: true, value: found };
}
