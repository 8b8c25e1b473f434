/**
 * Carries the camera's frames to the engine, beside the page's own thread: frames in, verdicts out. The page only shows
 * the video, which costs it nothing, and draws what the verdicts say.
 */
import type { Failure, Outcome } from '../../../contract/failures.ts';
import type { FrameVerdict } from '../../../contract/live.ts';
import { connectHost } from '../host/host.ts';
import { createFramePump } from './frame-pump.ts';
import { layoutOf, lumaOfColours, rangeOf } from './luma.ts';

/** What this file uses of a worker's own scope; the types of pages know no workers. */
interface WorkerScope {
  onmessage: ((event: MessageEvent<ToFrameWorker>) => void) | null;
  postMessage(message: FromFrameWorker): void;
}
const scope = self as unknown as WorkerScope;

/** How long a camera may send nothing before that is said. */
const SILENT_MS = 3000;
/** After a failure the next frame waits a little. */
const AFTER_FAILURE_MS = 400;
/** How a shell says that a newer frame was judged instead; nothing is wrong then. */
const DROPPED = 'frame-dropped';

interface Luma {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly width: number;
  readonly height: number;
  readonly range: 'video' | 'full';
}

interface ArrivedFrame {
  readonly source: VideoFrame | ImageBitmap;
  readonly at_ms: number;
}

const host = connectHost();
let serial = 0;
let buffer = new Uint8Array(0);
let canvas: OffscreenCanvas | undefined;
let silence: ReturnType<typeof setTimeout> | undefined;

const pump = createFramePump<ArrivedFrame>(judge, ({ source }) => source.close());

scope.onmessage = ({ data }) => {
  if (data.type === 'frames') void readFrames(data.frames);
  else if (data.type === 'picture') arrive(data.picture);
  else stop();
};
listenForSilence();

async function readFrames(frames: ReadableStream<VideoFrame>): Promise<void> {
  const reader = frames.getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    arrive(value);
  }
}

function arrive(source: VideoFrame | ImageBitmap): void {
  listenForSilence();
  pump.offer({ source, at_ms: performance.timeOrigin + performance.now() });
}

function listenForSilence(): void {
  clearTimeout(silence);
  silence = setTimeout(() => scope.postMessage({ type: 'silent' }), SILENT_MS);
}

function stop(): void {
  clearTimeout(silence);
  pump.stop();
}

async function judge({ source, at_ms }: ArrivedFrame): Promise<void> {
  const outcome = await judgeLuma(source);
  if (outcome.ok) {
    const { verdict, width, height } = outcome.value;
    scope.postMessage({ type: 'verdict', verdict, width, height, frameAt_ms: at_ms });
  } else if (outcome.failure.code !== DROPPED) {
    scope.postMessage({ type: 'failure', failure: outcome.failure });
    await new Promise((resolve) => setTimeout(resolve, AFTER_FAILURE_MS));
  }
  if (source instanceof ImageBitmap) scope.postMessage({ type: 'next' });
}

type Judged = { readonly verdict: FrameVerdict; readonly width: number; readonly height: number };

async function judgeLuma(source: VideoFrame | ImageBitmap): Promise<Outcome<Judged>> {
  const { bytes, width, height, range } = await readLuma(source);
  serial++;
  const outcome = await host.judgeFrame({ serial, width, height, range }, bytes);
  return outcome.ok ? { ok: true, value: { verdict: outcome.value, width, height } } : outcome;
}

async function readLuma(source: VideoFrame | ImageBitmap): Promise<Luma> {
  if (source instanceof ImageBitmap) return readThroughCanvas(source, source.width, source.height);
  const { width, height } = source.visibleRect ?? { width: source.codedWidth, height: source.codedHeight };
  const layout = layoutOf(source.format);
  if (layout === 'unknown') return readThroughCanvas(source, width, height);
  const size = source.allocationSize();
  if (buffer.length !== size) buffer = new Uint8Array(size);
  const [plane] = await source.copyTo(buffer);
  if (layout !== 'luma-first') {
    const bytes = lumaOfColours(buffer, layout === 'blue-first') as Uint8Array<ArrayBuffer>;
    return { bytes, width, height, range: 'full' };
  }
  const bytes = lumaPlane(plane!, width, height);
  return { bytes, width, height, range: rangeOf(bytes, source.colorSpace.fullRange) };
}

/** The first plane without what may stand behind each of its rows. */
function lumaPlane({ offset, stride }: PlaneLayout, width: number, height: number): Uint8Array<ArrayBuffer> {
  if (stride === width) return buffer.subarray(offset, offset + width * height);
  const luma = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    luma.set(buffer.subarray(offset + y * stride, offset + y * stride + width), y * width);
  }
  return luma;
}

function readThroughCanvas(source: VideoFrame | ImageBitmap, width: number, height: number): Luma {
  if (canvas?.width !== width || canvas.height !== height) canvas = new OffscreenCanvas(width, height);
  const context = canvas.getContext('2d', { willReadFrequently: true })!;
  context.drawImage(source, 0, 0, width, height);
  const { data } = context.getImageData(0, 0, width, height);
  return { bytes: lumaOfColours(data, false) as Uint8Array<ArrayBuffer>, width, height, range: 'full' };
}

/** What the page and the worker that carries its frames to the engine say to each other. */

export type ToFrameWorker =
  /** Frames as the camera sends them; handed over. */
  | { readonly type: 'frames'; readonly frames: ReadableStream<VideoFrame> }
  /** One picture of the video, where a browser cannot hand over the frames themselves. */
  | { readonly type: 'picture'; readonly picture: ImageBitmap }
  | { readonly type: 'stop' };

export type FromFrameWorker =
  | {
      readonly type: 'verdict';
      readonly verdict: FrameVerdict;
      readonly width: number;
      readonly height: number;
      /** When the frame arrived, ms since the epoch of the page's clock. */
      readonly frameAt_ms: number;
    }
  /** The shell did not judge a frame; the next one is tried a little later. */
  | { readonly type: 'failure'; readonly failure: Failure }
  /** No frame came for a while. */
  | { readonly type: 'silent' }
  /** A picture was judged; the next one may be sent. */
  | { readonly type: 'next' };
