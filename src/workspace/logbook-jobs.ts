/**
 * Long work on the logbook: verifying all of it, handing an entry over, taking a bundle in. Each is a job with progress that
 * can be called off; what it came to is asked for when it is done.
 */
import { mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Outcome } from '../contract/failures.ts';
import type { LogbookResult } from '../contract/logbook.ts';
import { PRIVATE_FILE_SYSTEM } from '../storage/file-system.ts';
import { writeAtomically } from '../storage/write-atomically.ts';
import type { Engine, JobOptions } from '../engine/engine.ts';
import type { PackedBundle } from '../logbook/bundle/pack-bundle.ts';
import { exportEntry, importBundle, nameEntryFile } from '../services/exchange.ts';
import { translateProblem, verifyEntries } from '../services/verify-entries.ts';
import { translateFailure } from '../wording/failures.ts';
import type { MakePictures } from '../services/reports.ts';
import { type CurrentState, translateNotKept } from './current-state.ts';
import { FailedWork } from './job-list.ts';
import { type LogbookService, refuseInWords } from './logbook-service.ts';
import { cleanName } from './import-photograph.ts';

export interface LogbookJobsOptions {
  /** Of the work: what comes and goes lies there for a while. */
  readonly folder: string;
  readonly state: CurrentState;
  readonly engine: Engine;
  readonly logbook: LogbookService;
  readonly softwareVersion: string;
  readonly now: () => Date;
}

/** Faults that are told one by one. */
const MAX_LISTED = 100;

type Kind = LogbookResult['kind'];
type Begun = Outcome<{ job: number }>;

export class LogbookJobs {
  readonly #options: LogbookJobsOptions;
  /** What the last job of each kind came to. */
  readonly #results = new Map<Kind, { readonly job: number; readonly result: LogbookResult }>();

  constructor(options: LogbookJobsOptions) {
    this.#options = options;
  }

  /** What an earlier run of the program left in its two places for files that come and go. */
  async clearPlaces(): Promise<void> {
    for (const place of ['incoming', 'outgoing']) {
      await rm(join(this.#options.folder, place), { recursive: true, force: true }).catch(() => undefined);
    }
  }

  verify(isQuick: boolean): Promise<Begun> {
    const { logbook, engine, softwareVersion } = this.#options;
    return logbook.ask(({ folder }) =>
      this.#start('verify', async ({ signal, onProgress }) => {
        onProgress?.(isQuick ? 'checking' : 'measuring-again', 0);
        const report = await verifyEntries({
          folder,
          softwareVersion,
          ...(signal && { signal }),
          onProgress: (done, of) => onProgress?.(isQuick ? 'checking' : 'measuring-again', done / Math.max(1, of)),
          ...(!isQuick && { measure: (again) => engine.run('measure', again, signal ? { signal } : {}) }),
        });
        signal?.throwIfAborted();
        const { problems, ...counts } = report;
        return {
          kind: 'verify',
          ...counts,
          faults: problems.length,
          problems: problems.slice(0, MAX_LISTED).map(translateProblem),
        };
      }),
    );
  }

  export(id: string): Promise<Begun> {
    const { logbook, engine, softwareVersion, now, folder } = this.#options;
    return logbook.withEntry(id, (found) =>
      this.#start('export', async ({ signal, onProgress }, job) => {
        const packed = requireDone(
          await logbook.ask<PackedBundle>(async (open) => {
            const makePictures: MakePictures = (request) => engine.run('draw-pictures', request);
            const options = { softwareVersion, now: now(), makePictures, signal, onProgress };
            const made = await exportEntry(open, found, options);
            return made.outcome === 'refused' ? refuseInWords(made) : { ok: true, value: made };
          }),
        );
        const place = join(folder, 'outgoing');
        await rm(place, { recursive: true, force: true });
        await writeAtomically(join(place, `${job}.zip`), packed.bytes, PRIVATE_FILE_SYSTEM).catch((error: unknown) => {
          throw new FailedWork(translateNotKept(error));
        });
        return { kind: 'export', entry: found.id, name: `${nameEntryFile(found)}.zip`, bytes: packed.bytes.length };
      }),
    );
  }

  /** The bundle that an export made; `undefined` where it is another job's. */
  async bundle(job: number): Promise<{ readonly name: string; readonly bytes: Uint8Array } | undefined> {
    const made = this.#results.get('export');
    if (made?.job !== job || made.result.kind !== 'export') return undefined;
    const bytes = await readFile(join(this.#options.folder, 'outgoing', `${job}.zip`)).catch(() => undefined);
    return bytes && { name: made.result.name, bytes };
  }

  async import(given: string, bytes: Uint8Array): Promise<Begun> {
    const { logbook, folder } = this.#options;
    const name = cleanName(given);
    return logbook.ask((open) =>
      this.#start('import', async ({ signal, onProgress }, job) => {
        const place = join(folder, 'incoming');
        const path = join(place, `${job}.zip`);
        try {
          await mkdir(place, { recursive: true, mode: 0o700 });
          await writeFile(path, bytes, { mode: 0o600 });
        } catch (error) {
          throw new FailedWork(translateNotKept(error));
        }
        try {
          const unpacked = await importBundle(open, path, {
            ...(signal && { signal }),
            onProgress: (stage, fraction) =>
              onProgress?.(stage, stage === 'verifying' ? fraction / 2 : 0.5 + fraction / 2),
          });
          if (unpacked.outcome === 'refused') return requireDone(refuseInWords(unpacked));
          const nothing = { entry: null, kept: 0, known: 0, photographs: 0, faults: 0, problems: [] };
          if (unpacked.outcome === 'unsound') {
            const { problems } = unpacked;
            const told = problems.slice(0, MAX_LISTED);
            return { kind: 'import', name, ...nothing, faults: problems.length, problems: told };
          }
          const { entry, kept, known, photographs } = unpacked;
          return { kind: 'import', name, ...nothing, entry, kept: kept.length, known: known.length, photographs };
        } finally {
          await rm(path, { force: true }).catch(() => undefined);
        }
      }),
    );
  }

  result(job: number): Outcome<LogbookResult> {
    const found = [...this.#results.values()].find((each) => each.job === job);
    return found ? { ok: true, value: found.result } : { ok: false, failure: translateFailure('no-such-job') };
  }

  /** One of a kind at a time. */
  #start(kind: Kind, work: (options: JobOptions, job: number) => Promise<LogbookResult>): Begun {
    const { jobs } = this.#options.state;
    if (jobs.isRunning(`logbook-${kind}`)) return { ok: false, failure: translateFailure('already-at-it') };
    this.#results.delete(kind);
    const job: number = jobs.start(`logbook-${kind}`, async (options) => {
      const result = await work(options, job);
      this.#results.set(kind, { job, result });
    });
    return { ok: true, value: { job } };
  }
}

function requireDone<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new FailedWork(outcome.failure);
  return outcome.value;
}
