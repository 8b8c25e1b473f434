/** One worker from its start to its end, which is told once and says why; and what the two sides say to each other. */
import { Worker } from 'node:worker_threads';
import type { EngineFailureCode } from './engine.ts';
import type { JobKind, JobRequest, JobResult } from './jobs.ts';

/** The host hands out one job at a time, so the worker never has two. */
export interface JobMessage<K extends JobKind = JobKind> {
  readonly job: number;
  readonly kind: K;
  readonly request: JobRequest<K>;
}

export type WorkerMessage =
  /** All modules are loaded. */
  | { readonly type: 'ready' }
  | { readonly type: 'progress'; readonly job: number; readonly stage: string; readonly fraction: number }
  | { readonly type: 'done'; readonly job: number; readonly result: JobResult<JobKind> }
  | { readonly type: 'failed'; readonly job: number; readonly fault: Fault };

/** What is left of an error behind the boundary. */
export interface Fault {
  readonly message: string;
  readonly stack: string;
  readonly isMemory: boolean;
}

export interface WorkerOptions {
  readonly workerPath: string | URL;
  /** Memory for everything but pictures, MiB. */
  readonly memory_mib: number;
}

export interface WorkerEnd {
  readonly code: Exclude<EngineFailureCode, 'cancelled'>;
  readonly message: string;
  readonly cause?: unknown;
}

export interface WorkerEvents {
  readonly onMessage: (message: WorkerMessage) => void;
  /** Not called after `stop`. */
  readonly onEnd: (end: WorkerEnd) => void;
}

export interface WorkerLink {
  send(message: JobMessage, handOver: readonly ArrayBuffer[]): void;
  /** Ends the worker wherever it is; nothing is heard of it any more. */
  stop(): Promise<void>;
}

export function startWorker({ workerPath, memory_mib }: WorkerOptions, events: WorkerEvents): WorkerLink {
  const worker = new Worker(workerPath, { resourceLimits: { maxOldGenerationSizeMb: memory_mib } });
  let isOver = false;
  const end = (why: WorkerEnd) => {
    if (isOver) return;
    isOver = true;
    events.onEnd(why);
  };
  worker.on('message', (message: WorkerMessage) => {
    if (!isOver) events.onMessage(message);
  });
  worker.on('error', (cause: NodeJS.ErrnoException) => {
    const code = cause.code === 'ERR_WORKER_OUT_OF_MEMORY' ? 'out-of-memory' : 'engine-fault';
    end({ code, message: cause.message, cause });
    void worker.terminate();
  });
  worker.on('exit', (status) => end({ code: 'engine-stopped', message: `the engine's worker ended with ${status}` }));
  return {
    send: (message, handOver) => worker.postMessage(message, [...handOver]),
    stop: async () => {
      isOver = true;
      await worker.terminate();
    },
  };
}

/** The memory of a result's pictures, which may change hands instead of being copied. */
export function memoryOf(result: unknown): ArrayBuffer[] {
  const found = new Set<ArrayBuffer>();
  const search = (value: unknown): void => {
    if (value instanceof Uint8Array) {
      const { buffer, byteLength } = value;
      if (buffer instanceof ArrayBuffer && buffer.byteLength === byteLength) found.add(buffer);
    } else if (typeof value === 'object' && value !== null) Object.values(value).forEach(search);
  };
  search(result);
  return [...found];
}
