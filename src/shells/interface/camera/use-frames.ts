/** What the engine says of the live picture. Every verdict goes to `onVerdict` at once; the page is drawn less often. */
import { type RefObject, useEffect, useState } from 'react';
import type { Failure } from '../../../contract/failures.ts';
import type { FrameVerdict } from '../../../contract/live.ts';
import type { FromFrameWorker, ToFrameWorker } from './frame-worker.ts';
import type { Size } from './camera-choice.ts';

export interface Judged {
  readonly verdict: FrameVerdict;
  readonly frame: Size;
  /** When the frame arrived, ms since the epoch of the page's clock. */
  readonly frameAt_ms: number;
}

export interface FramesView {
  readonly judged: Judged | null;
  /** The shell does not judge the frames; it is asked again with every frame. */
  readonly failure: Failure | null;
  readonly isSilent: boolean;
}

const NOTHING: FramesView = { judged: null, failure: null, isSilent: false };
/** Words and numbers that change faster than this cannot be read. */
const DRAW_AGAIN_MS = 120;

/** Not every browser hands over the frames of a track; the types of pages do not know it yet. */
interface TrackProcessor {
  readonly readable: ReadableStream<VideoFrame>;
}
type TrackProcessorClass = new (init: { readonly track: MediaStreamTrack }) => TrackProcessor;

export function useFrames(
  track: MediaStreamTrack | undefined,
  video: RefObject<HTMLVideoElement | null>,
  onVerdict: (judged: Judged) => void,
): FramesView {
  const [view, setView] = useState(NOTHING);
  useEffect(() => {
    setView(NOTHING);
    if (!track) return undefined;
    const worker = new Worker(new URL('./frame-worker.ts', import.meta.url), { type: 'module' });
    const post = (message: ToFrameWorker, handedOver: Transferable[] = []) => worker.postMessage(message, handedOver);
    let drawnAt_ms = 0;
    let lastCapture: string | undefined;
    const feed = createFeed(track, video.current, post);
    worker.onmessage = ({ data }: MessageEvent<FromFrameWorker>) => {
      if (data.type === 'next') feed.next();
      else if (data.type === 'failure') setView((before) => ({ ...before, failure: data.failure }));
      else if (data.type === 'silent') setView((before) => ({ ...before, isSilent: true }));
      else {
        const { verdict, width, height, frameAt_ms } = data;
        const judged = { verdict, frame: { width, height }, frameAt_ms };
        onVerdict(judged);
        const capture = JSON.stringify(verdict.capture);
        const now_ms = performance.now();
        if (now_ms - drawnAt_ms < DRAW_AGAIN_MS && capture === lastCapture) return;
        drawnAt_ms = now_ms;
        lastCapture = capture;
        setView({ judged, failure: null, isSilent: false });
      }
    };
    feed.next();
    return () => {
      feed.stop();
      post({ type: 'stop' });
      worker.terminate();
    };
  }, [track, video, onVerdict]);
  return view;
}

interface Feed {
  next(): void;
  stop(): void;
}

function createFeed(
  track: MediaStreamTrack,
  video: HTMLVideoElement | null,
  post: (message: ToFrameWorker, handedOver: Transferable[]) => void,
): Feed {
  const Processor = (globalThis as { MediaStreamTrackProcessor?: TrackProcessorClass }).MediaStreamTrackProcessor;
  if (Processor) {
    const { readable } = new Processor({ track });
    post({ type: 'frames', frames: readable }, [readable]);
    return { next: () => {}, stop: () => {} };
  }
  let isStopped = false;
  const sendPicture = async () => {
    if (isStopped || !video) return;
    const picture = await createImageBitmap(video);
    if (isStopped) picture.close();
    else post({ type: 'picture', picture }, [picture]);
  };
  return {
    next: () => void video?.requestVideoFrameCallback(() => void sendPicture()),
    stop: () => {
      isStopped = true;
    },
  };
}
