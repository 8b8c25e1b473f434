/** A shot being taken, as the page follows it from verdict to verdict. */
import type { FrameVerdict } from '../../../contract/live.ts';
import type { ShotSlot } from '../../../contract/shots.ts';

export type CaptureProgress =
  | { readonly state: 'none' }
  /** Asked for; the engine has not spoken of it yet. `since`: serial of the last verdict before. */
  | { readonly state: 'asked'; readonly slot: ShotSlot; readonly want: number; readonly since: number }
  | { readonly state: 'gathering'; readonly slot: ShotSlot; readonly have: number; readonly want: number }
  | { readonly state: 'taken'; readonly slot: ShotSlot }
  /** The engine knows nothing of it any more, as after a restart. */
  | { readonly state: 'lost'; readonly slot: ShotSlot };

/** Verdicts without a word of the shot after which it counts as lost: those under way when it was asked for, and some. */
const PATIENCE = 12;

export function followCapture(progress: CaptureProgress, { capture, serial }: FrameVerdict): CaptureProgress {
  if (progress.state === 'none' || progress.state === 'taken' || progress.state === 'lost') {
    return capture ? { state: 'gathering', ...capture } : progress;
  }
  if (capture) {
    const { slot, have, want } = capture;
    return have >= want ? { state: 'taken', slot } : { state: 'gathering', slot, have, want };
  }
  const { slot } = progress;
  if (progress.state === 'gathering') return { state: 'lost', slot };
  return serial - progress.since > PATIENCE ? { state: 'lost', slot } : progress;
}
