/**
 * The engine as the rest of the program sees it: measuring work that is done beside the caller's thread, one job after
 * the other, each with progress and a way to call it off. Answers hold codes and numbers; words are the caller's.
 */
import type { ExaminedPhoto, PhotoToExamine } from '../application/shot/examine-photo.ts';
import type { Pictures, PicturesOrder } from '../application/pictures/make-pictures.ts';
import type { LightRequest } from '../application/light/describe-light.ts';
import type { NullOrder } from '../application/polarizers/describe-null.ts';
import type { PortsOrder } from '../application/polarizers/describe-ports.ts';
import type { MeasurePairRequest } from '../application/measure-pair.ts';
import type { FrameHeader, FrameVerdict } from '../contract/live.ts';
import type { Refusal } from '../kernel/refusal.ts';
import type { PhotoRefusalCode } from '../photo/photo.ts';
import type { PhotoView } from '../photo/view-photo.ts';
import type { UnwordedEvenness } from '../record/evenness.ts';
import type { UnwordedNullSearch } from '../record/null-search.ts';
import type { UnwordedPortShots } from '../record/port-shots.ts';
import type { UnwordedReading } from '../record/reading.ts';
import type { ShotSlot } from '../record/roles.ts';

export type EngineState = 'starting' | 'ready' | 'stopped';

export interface JobOptions {
  /** A waiting job is given up at once; a running one is stopped with the worker, and the jobs behind it go on. */
  readonly signal?: AbortSignal;
  /** What is being done, and how much of the whole lies behind, 0 to 1; never falls. */
  readonly onProgress?: (stage: string, fraction: number) => void;
}

/** Everything that `measurePair` takes but its listeners, which the engine has of its own. */
export type MeasureRequest = Omit<MeasurePairRequest, 'onStage'>;

export interface ViewRequest {
  readonly path: string;
  /** Width of the view, px; a photograph is never enlarged. Full size where it is left out. */
  readonly width?: number;
}

/** The shot that was gathered from frames. */
export interface FinishedCapture {
  readonly slot: ShotSlot;
  /** PNG, 16 bit, grey. */
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly frames: number;
  /** Standard deviation of the picture's place among the frames, px; null where it was not found in enough of them. */
  readonly wander_px: { readonly x: number; readonly y: number } | null;
}

/** `dropped`: a newer frame came while this one was waiting. */
export type FrameAnswer =
  | { readonly outcome: 'judged'; readonly verdict: FrameVerdict; readonly finished: FinishedCapture | null }
  | { readonly outcome: 'dropped' };

export interface Engine {
  /** One photograph judged by itself. A photograph that cannot be used is an answer, not a failure. */
  examine(request: PhotoToExamine, options?: JobOptions): Promise<ExaminedPhoto>;
  measure(request: MeasureRequest, options?: JobOptions): Promise<UnwordedReading>;
  findNull(order: NullOrder, options?: JobOptions): Promise<UnwordedNullSearch>;
  comparePorts(order: PortsOrder, options?: JobOptions): Promise<UnwordedPortShots>;
  describeLight(request: LightRequest, options?: JobOptions): Promise<UnwordedEvenness>;
  viewPhotograph(request: ViewRequest, options?: JobOptions): Promise<PhotoView | Refusal<PhotoRefusalCode>>;
  /** Fails with `engine-fault` where a photograph is no longer the one that was measured. */
  makePictures(order: PicturesOrder, options?: JobOptions): Promise<Pictures>;

  /** `luma` is handed over: the caller's array is empty afterwards where it was not a part of a larger one. */
  judgeFrame(header: FrameHeader, luma: Uint8Array, aspect: number): Promise<FrameAnswer>;
  /** The next frames become a shot; it comes with the verdict on the last of them. */
  beginCapture(order: { readonly slot: ShotSlot; readonly frames: number }): Promise<void>;
  /** Forgets the frames seen so far, and a capture that has begun. */
  stopLive(): Promise<void>;

  /** Has the first photograph's work done once on a drawn one, so that the first real one is as quick as the next. */
  warm(): Promise<void>;
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
