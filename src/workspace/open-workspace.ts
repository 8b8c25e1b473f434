/**
 * Opens the work that lies in a folder, for as long as the program runs: locks the folder, reads what was kept, notices
 * what is missing, and answers everything that the contract lets a shell ask for.
 */
import { chmod, readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Outcome } from '../contract/failures.ts';
import type { Paper } from '../contract/logbook.ts';
import type { Shot } from '../contract/shots.ts';
import { photographsOf } from '../contract/workspace.ts';
import type { Engine } from '../engine/engine.ts';
import { type PrintPdf as Press, printPdf as printWithChromium } from '../pdf/print-pdf.ts';
import { type Holder, lockFolder } from '../storage/lock-folder.ts';
import { PRIVATE_FILE_SYSTEM } from '../storage/file-system.ts';
import { makeFolder, PART_ENDING } from '../storage/write-atomically.ts';
import { translateFailure, type WordedFailure } from '../wording/failures.ts';
import { translateRefusal } from '../wording/refusals.ts';
import { archivePhotographs, UNUSED_FOLDER } from './archive.ts';
import { CurrentState } from './current-state.ts';
import { addPhotograph } from './import-photograph.ts';
import { translateFault } from './job-list.ts';
import { LightService } from './light-service.ts';
import { LiveService } from './live-service.ts';
import { LogbookFiles } from './logbook-files.ts';
import { LogbookJobs } from './logbook-jobs.ts';
import { LogbookService } from './logbook-service.ts';
import { PhotographStore } from './photograph-store.ts';
import { PolarizerService } from './polarizer-service.ts';
import { answerCall, type Handlers, listLogbookProcedures, listProcedures } from './procedures.ts';
import { ReadingStore } from './reading-store.ts';
import { composeRoundReport, translatePrinting } from './round-report.ts';
import { RoundService } from './round-service.ts';
import { ShotService } from './shot-service.ts';
import { WatchService } from './watch-service.ts';
import { readState, type StoredState } from './stored-state.ts';
import type { LogbookPort, ShownPhotograph, Work } from './work.ts';

export interface WorkspaceOptions {
  readonly folder: string;
  readonly engine: Engine;
  readonly softwareVersion: string;
  readonly now?: () => Date;
  /** How reports get onto paper; the Chromium that is installed where it is left out. */
  readonly printPdf?: Press;
  /** Told of faults of the program; the operator hears only that there was one. */
  readonly onFault?: (fault: unknown) => void;
}

/** Fails with `in-use` or `folder-unusable`. */
export async function openWorkspace(order: WorkspaceOptions): Promise<Outcome<Work>> {
  const { folder } = order;
  let release = async () => {};
  try {
    await makeFolder(folder, PRIVATE_FILE_SYSTEM);
    const locking = await lockFolder(folder);
    if (locking.outcome === 'in-use') return { ok: false, failure: formatInUse(locking) };
    release = locking.release;
    await clearParts(folder);
    await closeToOthers(folder);
    return { ok: true, value: await open(order, release) };
  } catch (error) {
    await release().catch(() => undefined);
    const system_code = (error as NodeJS.ErrnoException).code;
    if (system_code === undefined) order.onFault?.(error);
    return {
      ok: false,
      failure: translateFailure('folder-unusable', { file: folder, ...(system_code && { system_code }) }),
    };
  }
}

async function open(order: WorkspaceOptions, release: () => Promise<void>): Promise<Work> {
  const {
    folder,
    engine,
    softwareVersion,
    now = () => new Date(),
    onFault = () => {},
    printPdf: press = printWithChromium,
  } = order;
  const printPdf = translatePrinting(press);
  const kept = await readState(folder, now());
  const away = await archiveUnused(folder, now());
  const photographs = new PhotographStore(folder);
  const readings = new ReadingStore(folder);
  await readings.countFrom(kept.state.rounds);
  const found = await findMissing(kept.state, photographs, readings);

  const state = new CurrentState(folder, found.state, onFault);
  const notices = [...kept.notices, ...away, ...found.notices];
  for (const notice of notices) state.notice(notice);
  if (notices.length > 0) void state.change((before) => before);
  const shots = new ShotService({ state, photographs, engine, now });
  const rounds = new RoundService({ state, photographs, readings, engine, softwareVersion, now });
  const polarizers = new PolarizerService({ state, photographs, engine, softwareVersion });
  const light = new LightService({ state, photographs, engine, softwareVersion });
  const live = new LiveService({ engine, state, shots, photographs });
  const watching = new WatchService({ state, photographs, shots, rounds });
  const logbook = new LogbookService({ state, engine, softwareVersion, now });
  const logbookJobs = new LogbookJobs({ folder, state, engine, logbook, softwareVersion, now });
  await logbookJobs.clearPlaces();
  const logbookFiles = new LogbookFiles({
    logbook,
    jobs: logbookJobs,
    photographs,
    engine,
    printPdf,
    softwareVersion,
    now,
  });
  const handlers: Handlers = {
    ...listProcedures({ folder, state, shots, rounds, readings, polarizers, light, live, watching, now }),
    ...listLogbookProcedures({ state, photographs, readings, logbook }, logbookJobs),
  };
  const forgetEngine = engine.onState((engineState) => state.emitEngine(engineState));
  shots.examineNew();

  /** Nothing is thrown across the border of this room. */
  const guard = async <T>(ask: () => Promise<Outcome<T>>): Promise<Outcome<T>> => {
    try {
      return await ask();
    } catch (error) {
      const failure = translateFault(error);
      if (failure.code === 'fault') onFault(error);
      return { ok: false, failure };
    }
  };
  const fail = (failure: WordedFailure): Outcome<never> => ({ ok: false, failure });

  const reportRound = (number: number, paper?: Paper) =>
    composeRoundReport({ state, readings, photographs, engine }, number, paper);

  return {
    call: (name, input) => guard(() => answerCall(handlers, name, input)),
    addPhotograph: (place, name, bytes) =>
      guard(() => addPhotograph({ photographs, shots, polarizers, light }, place, name, bytes)),
    judgeFrame: (header, luma) => guard(() => live.judgeFrame(header, luma)),
    viewPhotograph: (sha256, width) =>
      guard(async (): Promise<Outcome<ShownPhotograph>> => {
        const path =
          isOfWork(state, sha256) || polarizers.holds(sha256) || light.holds(sha256)
            ? await photographs.find(sha256)
            : undefined;
        if (path === undefined) return fail(translateFailure('no-such-photograph'));
        const view = await engine.run('view', { path, ...(width === undefined ? {} : { width }) });
        if (view.outcome === 'viewed') return { ok: true, value: view };
        return fail({ code: view.code, ...translateRefusal(view.code, view.facts, null) });
      }),
    report: (number) => guard(() => reportRound(number)),
    pdf: (number, paper) =>
      guard(async () => {
        const html = await reportRound(number, paper);
        return html.ok ? printPdf(html.value) : html;
      }),
    logbook: guardLogbook(logbookFiles, guard),
    readingJson: (number) =>
      guard(async (): Promise<Outcome<string>> => {
        const isListed = state.now.rounds.some((round) => round.number === number);
        const text = isListed ? await readings.readText(number) : undefined;
        return text === undefined ? fail(translateFailure('no-such-round')) : { ok: true, value: text };
      }),
    subscribe: (listener) => state.subscribe(listener),
    close: async () => {
      forgetEngine();
      await watching.stop();
      shots.forgetExaminations();
      await state.jobs.cancelAll();
      await state.flush();
      await release();
    },
  };
}

/** Tidying can wait: where it fails the work is opened all the same. */
async function archiveUnused(folder: string, at: Date): Promise<WordedFailure[]> {
  const { count, bytes } = await archivePhotographs(folder, at).catch(() => ({ count: 0, bytes: 0 }));
  if (count === 0) return [];
  return [translateFailure('photographs-put-away', { count, megabytes: bytes / 1e6, folder: UNUSED_FOLDER })];
}

type Guard = <T>(ask: () => Promise<Outcome<T>>) => Promise<Outcome<T>>;

function guardLogbook(shelf: LogbookPort, guard: Guard): LogbookPort {
  return {
    addPhotograph: (...given) => guard(() => shelf.addPhotograph(...given)),
    viewPhotograph: (...given) => guard(() => shelf.viewPhotograph(...given)),
    importBundle: (...given) => guard(() => shelf.importBundle(...given)),
    bundle: (...given) => guard(() => shelf.bundle(...given)),
    entryFile: (...given) => guard(() => shelf.entryFile(...given)),
    pairFile: (...given) => guard(() => shelf.pairFile(...given)),
    listFile: (...given) => guard(() => shelf.listFile(...given)),
    trendsFile: (...given) => guard(() => shelf.trendsFile(...given)),
  };
}

/** Nobody reads other files by guessing names: only what the work shows is shown. */
function isOfWork({ now }: CurrentState, sha256: string): boolean {
  return (
    now.shots.some((shot) => shot.sha256 === sha256) ||
    now.rounds.some((round) => photographsOf(round).includes(sha256))
  );
}

function formatInUse({ holder, path }: { readonly holder?: Holder; readonly path: string }): WordedFailure {
  return translateFailure('in-use', { ...holder, file: path });
}

/** Photographs are nobody else's business; earlier versions left them for everybody on the machine to read. */
async function closeToOthers(folder: string): Promise<void> {
  for (const name of ['photographs', UNUSED_FOLDER, 'readings', 'earlier', 'incoming', 'outgoing'])
    await chmod(join(folder, name), 0o700).catch(() => undefined);
}

/** What a write left behind that was broken off; only now, while nobody else writes here. */
async function clearParts(folder: string): Promise<void> {
  for (const place of [folder, join(folder, 'photographs'), join(folder, 'readings')]) {
    const names = await readdir(place).catch(() => []);
    for (const name of names) if (name.endsWith(PART_ENDING)) await rm(join(place, name), { force: true });
  }
}

interface FoundState {
  readonly state: StoredState;
  readonly notices: readonly WordedFailure[];
}

const MISSING = 'photograph-missing';

/** Missed when the work was opened last, and perhaps back again. */
const isMissed = ({ examination }: Shot) => examination?.code === MISSING;

/** What the state names and the folder no longer holds. Nothing is dropped for it; the operator hears of it. */
async function findMissing(
  state: StoredState,
  photographs: PhotographStore,
  readings: ReadingStore,
): Promise<FoundState> {
  const notices: WordedFailure[] = [];
  const shots = await Promise.all(
    state.shots.map(async (shot) => {
      if ((await photographs.find(shot.sha256)) !== undefined)
        return isMissed(shot) ? { ...shot, examination: null } : shot;
      const failure = translateFailure(MISSING, { name: shot.name });
      notices.push(failure);
      return { ...shot, examination: { outcome: 'refused' as const, ...failure } };
    }),
  );

  const laidOut = new Set(state.shots.map(({ sha256 }) => sha256));
  const earlier = new Set(state.rounds.flatMap(photographsOf));
  const found = await Promise.all(
    [...earlier].filter((sha256) => !laidOut.has(sha256)).map((sha256) => photographs.find(sha256)),
  );
  const count = found.filter((path) => path === undefined).length;
  if (count > 0) notices.push(translateFailure('photographs-missing', { count }));

  for (const { number } of state.rounds) {
    if ((await readings.readText(number)) === undefined)
      notices.push(translateFailure('reading-missing', { round: number }));
  }
  return { state: { ...state, shots }, notices };
}
