/**
 * Starts the engine: a worker, the jobs that wait for it, and what becomes of both when a job is called off or the worker
 * ends. Work is never done on the caller's thread.
 */
import type { Engine, EngineState, JobOptions } from './engine.ts';
import { EngineFailure } from './engine.ts';
import type { JobKind, JobRequest, JobResult } from './jobs.ts';
import {
  type JobMessage,
  startWorker,
  type WorkerEnd,
  type WorkerLink,
  type WorkerMessage,
  type WorkerOptions,
} from './worker-link.ts';

export interface EngineOptions {
  /** The built worker: `engine-worker.js` among the built programs. */
  readonly workerPath: string | URL;
  readonly memory_mib?: number;
}

/** A measurement of 12 megapixels takes a small part of it. */
const DEFAULT_MEMORY_MIB = 1024;

interface Job {
  readonly isFrame: boolean;
  readonly message: JobMessage;
  readonly handOver: readonly ArrayBuffer[];
  readonly reportProgress: NonNullable<JobOptions['onProgress']>;
  /** Settle the caller's promise; the first of the two counts. */
  readonly answer: (result: JobResult<JobKind>) => void;
  readonly fail: (failure: EngineFailure) => void;
}

export function startEngine({ workerPath, memory_mib = DEFAULT_MEMORY_MIB }: EngineOptions): Engine {
  return new WorkerEngine({ workerPath, memory_mib });
}

class WorkerEngine implements Engine {
  readonly #options: WorkerOptions;
  readonly #queue = new JobQueue<Job>();
  readonly #listeners = new Set<(state: EngineState) => void>();
  #link: WorkerLink | undefined;
  #state: EngineState = 'stopped';
  #running: Job | undefined;
  #jobs = 0;
  #isClosed = false;
  /** Frames are being judged: the worker holds what they have shown so far, and a shot that is being gathered. */
  #isLive = false;

  constructor(options: WorkerOptions) {
    this.#options = options;
    this.#start();
  }

  run: Engine['run'] = (kind, request, options) => this.#do(kind, request, options);

  judgeFrame: Engine['judgeFrame'] = async (header, luma, aspect) => {
    // Memory that was handed over before is empty, and Node loses a message that hands it over again.
    if (luma.length !== header.width * header.height) {
      const message = `${luma.length} bytes of luma for ${header.width}x${header.height}`;
      throw new EngineFailure('engine-fault', message);
    }
    const own = inOwnMemory(luma);
    return this.#do('judge-frame', { header, luma: own, aspect, at_ms: performance.now() }, {}, [own.buffer]);
  };

  onState(listener: (state: EngineState) => void): () => void {
    this.#listeners.add(listener);
    listener(this.#state);
    return () => this.#listeners.delete(listener);
  }

  async close(): Promise<void> {
    if (this.#isClosed) return;
    this.#isClosed = true;
    const cancelled = [...this.#takeRunning(), ...this.#queue.clear()];
    for (const job of cancelled) job.fail(new EngineFailure('cancelled', 'the engine was closed'));
    const link = this.#link;
    this.#link = undefined;
    this.#enter('stopped');
    await link?.stop();
  }

  #do<K extends JobKind>(
    kind: K,
    request: JobRequest<K>,
    { signal, onProgress }: JobOptions = {},
    handOver: readonly ArrayBuffer[] = [],
  ): Promise<JobResult<K>> {
    return new Promise<JobResult<K>>((resolve, reject) => {
      const callOff = () => this.#cancel(job);
      const settle = () => signal?.removeEventListener('abort', callOff);
      const job: Job = {
        isFrame: kind === 'judge-frame',
        message: { job: ++this.#jobs, kind, request },
        handOver,
        reportProgress: onProgress ?? (() => {}),
        answer: (result) => {
          settle();
          resolve(result as JobResult<K>);
        },
        fail: (failure) => {
          settle();
          reject(failure);
        },
      };
      if (this.#isClosed) return job.fail(new EngineFailure('cancelled', 'the engine was closed'));
      if (signal?.aborted) return job.fail(calledOff());
      if (kind === 'judge-frame' || kind === 'begin-capture') this.#isLive = true;
      else if (kind === 'stop-live') this.#isLive = false;
      signal?.addEventListener('abort', callOff, { once: true });
      this.#queue.add(job)?.answer({ outcome: 'dropped' });
      if (!this.#link) this.#start();
      this.#handOut();
    });
  }

  #start(): void {
    this.#enter('starting');
    this.#link = startWorker(this.#options, {
      onMessage: (message) => this.#hear(message),
      onEnd: (end) => this.#recover(end),
    });
  }

  #handOut(): void {
    if (this.#state !== 'ready' || this.#running) return;
    const job = this.#queue.next();
    if (!job) return;
    try {
      this.#link!.send(job.message, job.handOver);
      this.#running = job;
    } catch (cause) {
      // What cannot be copied to another thread, such as a function.
      job.fail(new EngineFailure('engine-fault', String(cause), { cause }));
      this.#handOut();
    }
  }

  #hear(message: WorkerMessage): void {
    if (message.type === 'ready') {
      this.#enter('ready');
      this.#handOut();
      return;
    }
    if (message.job !== this.#running?.message.job) return;
    if (message.type === 'progress') {
      this.#running.reportProgress(message.stage, message.fraction);
      return;
    }
    const [job] = this.#takeRunning();
    this.#handOut();
    if (message.type === 'done') job!.answer(message.result);
    else {
      const { isMemory, message: words, stack } = message.fault;
      job!.fail(new EngineFailure(isMemory ? 'out-of-memory' : 'engine-fault', words, { cause: stack }));
    }
  }

  /**
   * A waiting job is taken out; a running one is stopped with its worker, and a new worker goes on with the others. Where
   * frames are being judged the worker is worth more than the seconds that the job would still take: it ends by itself,
   * and nobody hears of it.
   */
  #cancel(job: Job): void {
    if (!this.#queue.remove(job)) {
      if (this.#running !== job) return;
      if (this.#isLive) {
        job.fail(calledOff());
        return;
      }
      this.#running = undefined;
      void this.#link?.stop();
      this.#start();
    }
    job.fail(calledOff());
  }

  /**
   * The worker ended by itself. The job that it was at goes with it, the others wait for the next worker. One that
   * did not even start would not start again: then all jobs fail, and the next one that is asked for tries anew.
   */
  #recover({ code, message, cause }: WorkerEnd): void {
    const failure = () => new EngineFailure(code, message, { cause });
    const wasReady = this.#state === 'ready';
    const lost = [...this.#takeRunning(), ...(wasReady ? [] : this.#queue.clear())];
    this.#link = undefined;
    this.#enter('stopped');
    if (wasReady) this.#start();
    for (const job of lost) job.fail(failure());
  }

  #takeRunning(): Job[] {
    const running = this.#running ? [this.#running] : [];
    this.#running = undefined;
    return running;
  }

  #enter(state: EngineState): void {
    if (state === this.#state) return;
    this.#state = state;
    for (const listener of this.#listeners) listener(state);
  }
}

function calledOff(): EngineFailure {
  return new EngineFailure('cancelled', 'the job was called off');
}

/** The same bytes as a whole array of their own, which can change hands; copied only where they are a part of another. */
function inOwnMemory(bytes: Uint8Array): Uint8Array<ArrayBuffer> {
  const { buffer, byteLength } = bytes;
  const isWhole = buffer instanceof ArrayBuffer && buffer.byteLength === byteLength;
  return isWhole ? (bytes as Uint8Array<ArrayBuffer>) : Uint8Array.from(bytes);
}

/**
 * Jobs in the order in which they came. Of live frames only the newest one waits: it takes the place of the one that
 * waited before, so that frames neither pile up behind other work nor push themselves before it.
 */
interface Queued {
  readonly isFrame: boolean;
}

export class JobQueue<J extends Queued> {
  #waiting: J[] = [];

  /** Answers the frame that gave way, if one did. */
  add(job: J): J | undefined {
    const stale = job.isFrame ? this.#waiting.findIndex(({ isFrame }) => isFrame) : -1;
    if (stale < 0) {
      this.#waiting.push(job);
      return undefined;
    }
    return this.#waiting.splice(stale, 1, job)[0];
  }

  /** Takes out the one that is next. */
  next(): J | undefined {
    return this.#waiting.shift();
  }

  /** Whether it was still waiting. */
  remove(job: J): boolean {
    const index = this.#waiting.indexOf(job);
    if (index >= 0) this.#waiting.splice(index, 1);
    return index >= 0;
  }

  /** Takes out all of them. */
  clear(): J[] {
    return this.#waiting.splice(0);
  }
}
