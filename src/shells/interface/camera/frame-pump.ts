/**
 * Between a camera that sends frames at its own pace and a judge that takes its time: one frame is being judged, the
 * newest one waits, and all others are let go at once, because a camera has only a few frames to lend.
 */
export interface FramePump<Frame> {
  offer(frame: Frame): void;
  /** Lets the waiting frame go; nothing is judged from then on. */
  stop(): void;
}

export function createFramePump<Frame>(
  judge: (frame: Frame) => Promise<void>,
  release: (frame: Frame) => void,
): FramePump<Frame> {
  let waiting: Frame | undefined;
  let isBusy = false;
  let isStopped = false;

  const run = async () => {
    isBusy = true;
    while (waiting !== undefined && !isStopped) {
      const frame = waiting;
      waiting = undefined;
      try {
        await judge(frame);
      } finally {
        release(frame);
      }
    }
    isBusy = false;
  };

  return {
    offer(frame) {
      if (isStopped) {
        release(frame);
        return;
      }
      if (waiting !== undefined) release(waiting);
      waiting = frame;
      if (!isBusy) void run();
    },
    stop() {
      isStopped = true;
      if (waiting !== undefined) release(waiting);
      waiting = undefined;
    },
  };
}
