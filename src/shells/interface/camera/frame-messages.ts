/** What the page and the worker that carries its frames to the engine say to each other. */
import type { Failure } from '../../../contract/failures.ts';
import type { FrameVerdict } from '../../../contract/live.ts';

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
