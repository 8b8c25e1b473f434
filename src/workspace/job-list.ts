/**
 * Work that takes long enough to be shown: each job with its progress, and a way to call it off. An ended job stays in
 * the list until the next of its kind begins, so that its failure can be read.
 */
import type { Job } from '../contract/workspace.ts';
import { EngineFailure, type JobOptions } from '../engine/engine.ts';
import { translateFailure, type WordedFailure } from '../wording/failures.ts';

interface RunningJob {
  job: Job;
  readonly stop: AbortController;
  readonly ended: Promise<void>;
}

/** Progress that is shown: finer steps would only be sent and drawn for nothing. */
const SHOWN_STEP = 0.01;

export interface JobListOptions {
  readonly onChange: () => void;
  /** Told of faults of the program. */
  readonly onFault: (fault: unknown) => void;
}

export class Jobs {
  readonly #options: JobListOptions;
  #jobs: RunningJob[] = [];
  #last = 0;

  constructor(options: JobListOptions) {
    this.#options = options;
  }

  list(): Job[] {
    return this.#jobs.map(({ job }) => job);
  }

  isRunning(kind: Job['kind']): boolean {
    return this.#jobs.some(({ job }) => job.kind === kind && isUnderWay(job));
  }

  /** Begins at once; what `work` throws becomes the job's failure. */
  start(kind: Job['kind'], work: (options: JobOptions) => Promise<void>): number {
    this.#last += 1;
    const id = this.#last;
    const stop = new AbortController();
    const job: Job = { id, kind, stage: 'waiting', fraction: 0, state: 'waiting', failure: null };
    const onProgress = (stage: string, fraction: number) => this.#progress(id, stage, fraction);
    this.#jobs = this.#jobs.filter((other) => other.job.kind !== kind || isUnderWay(other.job));
    const ended = Promise.resolve()
      .then(() => work({ signal: stop.signal, onProgress }))
      .then(
        () => this.#change(id, { state: 'done', fraction: 1 }),
        (error: unknown) => this.#end(id, error),
      );
    this.#jobs.push({ job, stop, ended });
    this.#options.onChange();
    return id;
  }

  /** False where there is no such job under way. */
  cancel(id: number): boolean {
    const found = this.#jobs.find(({ job }) => job.id === id);
    if (!found || !isUnderWay(found.job)) return false;
    found.stop.abort();
    return true;
  }

  /** Calls everything of the kinds meant off and waits until it has ended. */
  async cancelAll(isMeant: (kind: Job['kind']) => boolean = () => true): Promise<void> {
    const meant = this.#jobs.filter(({ job }) => isMeant(job.kind));
    for (const { stop } of meant) stop.abort();
    await Promise.all(meant.map(({ ended }) => ended));
  }

  clear(): void {
    this.#jobs = this.#jobs.filter(({ job }) => isUnderWay(job));
  }

  #progress(id: number, stage: string, fraction: number): void {
    const before = this.#jobs.find(({ job }) => job.id === id)?.job;
    if (!before || !isUnderWay(before)) return;
    if (before.stage === stage && fraction - before.fraction < SHOWN_STEP) return;
    this.#change(id, { stage, fraction: Math.min(1, Math.max(before.fraction, fraction)), state: 'running' });
  }

  #end(id: number, error: unknown): void {
    const failure = translateFault(error);
    if (failure.code === 'fault' || failure.code === 'engine-fault') this.#options.onFault(error);
    this.#change(id, failure.code === 'cancelled' ? { state: 'cancelled' } : { state: 'failed', failure });
  }

  #change(id: number, change: Partial<Job>): void {
    this.#jobs = this.#jobs.map((running) => {
      if (running.job.id === id) running.job = { ...running.job, ...change };
      return running;
    });
    this.#options.onChange();
  }
}

function isUnderWay({ state }: Job): boolean {
  return state === 'waiting' || state === 'running';
}

/** What was thrown, in words. A failure that was worded already may be thrown as `FailedWork`. */
export function translateFault(error: unknown): WordedFailure {
  if (error instanceof FailedWork) return error.failure;
  if (error instanceof EngineFailure) return translateFailure(error.code);
  return translateFailure(isAborted(error) ? 'cancelled' : 'fault');
}

function isAborted(error: unknown): boolean {
  return error instanceof Error && error.name === 'AbortError';
}

/** Ends a job with a failure that has its words. */
export class FailedWork extends Error {
  readonly failure: WordedFailure;

  constructor(failure: WordedFailure) {
    super(failure.message);
    this.name = 'FailedWork';
    this.failure = failure;
  }
}
