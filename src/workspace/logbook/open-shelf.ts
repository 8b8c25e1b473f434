/** The logbook of a workspace put together: its desk, its long work, what it hands out. */
import type { Outcome } from '../../contract/failures.ts';
import type { WaitingPhotograph } from '../../contract/logbook.ts';
import type { Engine } from '../../engine/engine.ts';
import { translateFailure } from '../../wording/failures.ts';
import { translateRefusal } from '../../wording/refusals.ts';
import { type CurrentState, translateNotKept } from '../current-state.ts';
import type { PhotographFolder } from '../photograph-store.ts';
import type { ReadingFolder } from '../reading-store.ts';
import { tidyName } from '../clean-name.ts';
import type { LogbookShelf, PrintPdf } from '../work.ts';
import { HandOut, handOut } from './hand-out.ts';
import { LogbookDesk } from './logbook-desk.ts';
import { LogbookJobs } from './logbook-jobs.ts';
import { listLogbookProcedures } from './logbook-procedures.ts';

export interface ShelfOrder {
  readonly folder: string;
  readonly state: CurrentState;
  readonly engine: Engine;
  readonly photographs: PhotographFolder;
  readonly readings: ReadingFolder;
  readonly printPdf: PrintPdf;
  readonly softwareVersion: string;
  readonly now: () => Date;
}

export interface OpenedShelf {
  readonly handlers: ReturnType<typeof listLogbookProcedures>;
  readonly shelf: LogbookShelf;
}

export async function openShelf(order: ShelfOrder): Promise<OpenedShelf> {
  const { photographs, state, readings } = order;
  const logbook = new LogbookDesk(order);
  const files = new HandOut({ ...order, logbook });
  const jobs = new LogbookJobs({
    ...order,
    logbook,
    drawReport: (found, open) => files.drawEntry(found, open),
  });
  await jobs.clearPlaces();
  return {
    handlers: listLogbookProcedures({ state, photographs, readings, logbook }, jobs),
    shelf: {
      addPhotograph: (name, bytes) => addWaiting(photographs, name, bytes),
      viewPhotograph: (sha256, width) => files.viewPhotograph(sha256, width),
      importBundle: (name, bytes) => jobs.import(name, bytes),
      bundle: async (job) => {
        const made = await jobs.bundle(job);
        if (!made) return { ok: false, failure: translateFailure('no-such-job') };
        return handOut(made.name, 'application/zip', made.bytes);
      },
      entryFile: (id, file, paper) => files.entryFile(id, file, paper),
      pairFile: (before, after, file, paper) => files.pairFile(before, after, file, paper),
      listFile: (query) => files.listFile(query),
      trendsFile: (query, file, paper) => files.trendsFile(query, file, paper),
    },
  };
}

async function addWaiting(
  folder: PhotographFolder,
  given: string,
  bytes: Uint8Array,
): Promise<Outcome<WaitingPhotograph>> {
  const name = tidyName(given);
  try {
    const added = await folder.add(bytes);
    if (added.outcome === 'added') return { ok: true, value: { sha256: added.sha256, name } };
    const facts = { file: name, reason: 'format', format: added.format };
    return {
      ok: false,
      failure: { code: 'unsupported-format', ...translateRefusal('unsupported-format', facts, null) },
    };
  } catch (error) {
    return { ok: false, failure: translateNotKept(error) };
  }
}
