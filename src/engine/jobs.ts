/**
 * What the host and its worker say to each other. The host hands out one job at a time, so the worker never has two.
 */
import type { ExaminedPhoto, PhotoToExamine } from '../application/shot/examine-photo.ts';
import type { LightRequest } from '../application/light/describe-light.ts';
import type { NullOrder } from '../application/polarizers/describe-null.ts';
import type { PortsOrder } from '../application/polarizers/describe-ports.ts';
import type { Pictures, PicturesOrder } from '../application/pictures/make-pictures.ts';
import type { FrameHeader } from '../contract/live.ts';
import type { Refusal } from '../kernel/refusal.ts';
import type { PhotoRefusalCode } from '../photo/photo.ts';
import type { PhotoView } from '../photo/view-photo.ts';
import type { UnwordedEvenness } from '../record/evenness.ts';
import type { UnwordedNullSearch } from '../record/null-search.ts';
import type { UnwordedPortShots } from '../record/port-shots.ts';
import type { UnwordedReading } from '../record/reading.ts';
import type { FrameAnswer, MeasureRequest, ViewRequest } from './engine.ts';
import type { ShotSlot } from '../record/roles.ts';

/** Kinds of work: what is asked and what is answered. */
export interface Jobs {
  readonly examine: { readonly ask: PhotoToExamine; readonly answer: ExaminedPhoto };
  readonly measure: { readonly ask: MeasureRequest; readonly answer: UnwordedReading };
  readonly null: { readonly ask: NullOrder; readonly answer: UnwordedNullSearch };
  readonly ports: { readonly ask: PortsOrder; readonly answer: UnwordedPortShots };
  readonly light: { readonly ask: LightRequest; readonly answer: UnwordedEvenness };
  readonly view: { readonly ask: ViewRequest; readonly answer: PhotoView | Refusal<PhotoRefusalCode> };
  readonly pictures: { readonly ask: PicturesOrder; readonly answer: Pictures };
  readonly frame: { readonly ask: FrameToJudge; readonly answer: FrameAnswer };
  readonly capture: { readonly ask: { readonly slot: ShotSlot; readonly frames: number }; readonly answer: undefined };
  readonly stopLive: { readonly ask: undefined; readonly answer: undefined };
  readonly warm: { readonly ask: undefined; readonly answer: undefined };
}

export type JobKind = keyof Jobs;
export type Ask<K extends JobKind> = Jobs[K]['ask'];
export type Answer<K extends JobKind> = Jobs[K]['answer'];

export interface FrameToJudge {
  readonly header: FrameHeader;
  readonly luma: Uint8Array<ArrayBuffer>;
  readonly aspect: number;
  /** When it came in, on the host's even clock. */
  readonly at_ms: number;
}

/** A kind with what it asks, so that one tells the type of the other. */
export type Work = { readonly [K in JobKind]: { readonly kind: K; readonly ask: Ask<K> } }[JobKind];

export interface JobMessage {
  readonly job: number;
  readonly work: Work;
}

export type WorkerMessage =
  /** All modules are loaded. */
  | { readonly type: 'ready' }
  | { readonly type: 'progress'; readonly job: number; readonly stage: string; readonly fraction: number }
  | { readonly type: 'done'; readonly job: number; readonly answer: Answer<JobKind> }
  | { readonly type: 'failed'; readonly job: number; readonly fault: Fault };

/** What is left of an error behind the boundary. */
export interface Fault {
  readonly message: string;
  readonly stack: string;
  readonly isMemory: boolean;
}
