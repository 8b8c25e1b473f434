/**
 * Long work on the logbook: verifying all of it, handing an entry over, taking a bundle in. Each is a job with progress that
 * can be called off; what it came to is asked for when it is done.
 */
import { mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Outcome } from '../../contract/failures.ts';
import type { LogbookResult, NamedFault } from '../../contract/logbook.ts';
import { writeAtomically } from '../../storage/write-atomically.ts';
import type { Engine, JobOptions } from '../../engine/engine.ts';
import type { BundleProblem } from '../../logbook/bundle/inspect-zip.ts';
import { type PackedBundle, packBundle } from '../../logbook/bundle/pack-bundle.ts';
import { unpackBundle } from '../../logbook/bundle/unpack-bundle.ts';
import type { FoundEntry, Logbook, LogbookRefusal } from '../../logbook/logbook.ts';
import { requestRemeasurement } from '../../logbook/request-remeasurement.ts';
import { type Problem, verifyLogbook } from '../../logbook/verify-logbook.ts';
import { translateFailure } from '../../wording/failures.ts';
import { translateLogbook } from '../../wording/logbook.ts';
import { translateReading } from '../../wording/word-reading.ts';
import { type CurrentState, translateNotKept } from '../current-state.ts';
import { FailedWork } from '../job-list.ts';
import { tidyName } from '../clean-name.ts';
import type { LogbookDesk } from './logbook-desk.ts';
import { refuseInWords } from './word-refused.ts';

export interface LogbookJobsOrder {
  /** Of the work: what comes and goes lies there for a while. */
  readonly folder: string;
  readonly state: CurrentState;
  readonly engine: Engine;
  readonly logbook: LogbookDesk;
  /** The report that goes into a bundle. */
  readonly drawReport: (found: FoundEntry, logbook: Logbook) => Promise<string>;
  readonly softwareVersion: string;
  readonly now: () => Date;
}

/** Faults that are told one by one. */
const MOST_TOLD = 100;

type Kind = LogbookResult['kind'];
type Begun = Outcome<{ job: number }>;

export class LogbookJobs {
  readonly #order: LogbookJobsOrder;
  /** What the last job of each kind came to. */
  readonly #results = new Map<Kind, { readonly job: number; readonly result: LogbookResult }>();

  constructor(order: LogbookJobsOrder) {
    this.#order = order;
  }

  /** What an earlier run of the program left in its two places for files that come and go. */
  async clearPlaces(): Promise<void> {
    for (const place of ['incoming', 'outgoing']) {
      await rm(join(this.#order.folder, place), { recursive: true, force: true }).catch(() => undefined);
    }
  }

  verify(isQuick: boolean): Promise<Begun> {
    const { logbook, engine, softwareVersion } = this.#order;
    return logbook.ask(({ folder }) =>
      this.#start('verify', async ({ signal, onProgress }) => {
        onProgress?.(isQuick ? 'checking' : 'measuring-again', 0);
        const report = await verifyLogbook({
          folder,
          softwareVersion,
          ...(signal && { signal }),
          onProgress: (done, of) => onProgress?.(isQuick ? 'checking' : 'measuring-again', done / Math.max(1, of)),
          ...(!isQuick && {
            measure: async (again) =>
              translateReading(
                await engine.measure(requestRemeasurement(again, softwareVersion), signal ? { signal } : {}),
              ),
          }),
        });
        signal?.throwIfAborted();
        const { problems, ...counts } = report;
        return {
          kind: 'verify',
          ...counts,
          faults: problems.length,
          problems: problems.slice(0, MOST_TOLD).map(nameProblem),
        };
      }),
    );
  }

  export(id: string): Promise<Begun> {
    const { logbook, drawReport, softwareVersion, now, folder } = this.#order;
    return logbook.withEntry(id, (found) =>
      this.#start('export', async ({ signal, onProgress }, job) => {
        onProgress?.('packing', 0.05);
        const order = { id: found.id, softwareVersion, now: now(), ...(signal && { signal }) };
        // Photographs are checked by packing; a report is only drawn from sound ones.
        const pack = async (report: string) =>
          requireDone(
            await logbook.ask<PackedBundle>(async (open) => {
              const packed = await packBundle(open, { ...order, report });
              return packed.outcome === 'refused' ? refuseInWords(packed) : { ok: true, value: packed };
            }),
          );
        await pack('');
        onProgress?.('drawing', 0.3);
        const report = requireDone(
          await logbook.ask(async (open) => ({ ok: true, value: await drawReport(found, open) })),
        );
        signal?.throwIfAborted();
        onProgress?.('packing', 0.7);
        const { bytes } = await pack(report);
        const place = join(folder, 'outgoing');
        await rm(place, { recursive: true, force: true });
        await writeAtomically(join(place, `${job}.zip`), bytes).catch((error: unknown) => {
          throw new FailedWork(translateNotKept(error));
        });
        return { kind: 'export', entry: found.id, name: nameBundle(found), bytes: bytes.length };
      }),
    );
  }

  /** The bundle that an export made; `undefined` where it is another job's. */
  async bundle(job: number): Promise<{ readonly name: string; readonly bytes: Uint8Array } | undefined> {
    const made = this.#results.get('export');
    if (made?.job !== job || made.result.kind !== 'export') return undefined;
    const bytes = await readFile(join(this.#order.folder, 'outgoing', `${job}.zip`)).catch(() => undefined);
    return bytes && { name: made.result.name, bytes };
  }

  async import(given: string, bytes: Uint8Array): Promise<Begun> {
    const { logbook, folder } = this.#order;
    const name = tidyName(given);
    return logbook.ask((open) =>
      this.#start('import', async ({ signal, onProgress }, job) => {
        const place = join(folder, 'incoming');
        const path = join(place, `${job}.zip`);
        try {
          await mkdir(place, { recursive: true });
          await writeFile(path, bytes);
        } catch (error) {
          throw new FailedWork(translateNotKept(error));
        }
        try {
          const unpacked = await unpackBundle(open, path, {
            ...(signal && { signal }),
            onProgress: (stage, fraction) =>
              onProgress?.(stage, stage === 'verifying' ? fraction / 2 : 0.5 + fraction / 2),
          });
          if (unpacked.outcome === 'refused') throw failRefused(unpacked);
          const nothing = { entry: null, kept: 0, known: 0, photographs: 0, faults: 0, problems: [] };
          if (unpacked.outcome === 'unsound') {
            const { problems } = unpacked;
            const told = problems.slice(0, MOST_TOLD).map(nameBundleProblem);
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
    const { jobs } = this.#order.state;
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

function failRefused({ code, facts }: LogbookRefusal): FailedWork {
  return new FailedWork({ code, ...translateLogbook(code, facts) });
}

function nameProblem({ code, id, file, facts }: Problem): NamedFault {
  return { code, id, file, ...translateLogbook(code, facts) };
}

function nameBundleProblem({ code, file }: BundleProblem): NamedFault {
  return { code, id: null, file, ...translateLogbook(code) };
}

function nameBundle({ id, entry }: FoundEntry): string {
  return `twinplumb-${entry.saved_at.slice(0, 10)}-${id.slice(0, 8)}.zip`;
}
