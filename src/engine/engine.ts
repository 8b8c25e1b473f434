/**
 * The engine as the rest of the program sees it: measuring work that is done beside the caller's thread, one job after
 * the other, each with progress and a way to call it off. Answers hold codes and numbers; words are the caller's.
 */
import type { FrameHeader } from '../contract/live.ts';
import type { JobKind, JobRequest, JobResult, ReportProgress } from './jobs.ts';
import type { FrameAnswer } from './live-camera.ts';

export type EngineState = 'starting' | 'ready' | 'stopped';

export interface JobOptions {
  /** A waiting job is given up at once; a running one is stopped with the worker, and the jobs behind it go on. */
  readonly signal?: AbortSignal;
  /** Its fraction never falls. */
  readonly onProgress?: ReportProgress;
}

/** Frames come by `judgeFrame`, which stamps them and hands their memory over. */
export type RunKind = Exclude<JobKind, 'judge-frame'>;

export interface Engine {
  /** Any job of the table in `jobs.ts`, by its kind. */
  run<K extends RunKind>(kind: K, request: JobRequest<K>, options?: JobOptions): Promise<JobResult<K>>;
  /** `luma` is handed over: the caller's array is empty afterwards where it was not a part of a larger one. */
  judgeFrame(header: FrameHeader, luma: Uint8Array, aspect: number): Promise<FrameAnswer>;
  /** Called with the present state at once and with every new one, until the returned function is called. */
  onState(listener: (state: EngineState) => void): () => void;
  /** Stops the worker; jobs under way and waiting are cancelled. */
  close(): Promise<void>;
}

/**
 *   cancelled        called off by the signal, or the engine was closed
 *   engine-stopped   the worker ended in the middle of the job
 *   engine-fault     a fault of the program: `cause` says where
 *   out-of-memory    the photograph asked for more memory than the worker may use
 */
export type EngineFailureCode = 'cancelled' | 'engine-stopped' | 'engine-fault' | 'out-of-memory';

export class EngineFailure extends Error {
  readonly code: EngineFailureCode;

  constructor(code: EngineFailureCode, message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = 'EngineFailure';
    this.code = code;
  }
}
