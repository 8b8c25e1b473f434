/** A shot being taken, as the page follows it from verdict to verdict. */
import type { FrameVerdict } from '../../../contract/live.ts';
import { findMissingSlot } from '../../../contract/photographs-of-round.ts';
import type { Workspace } from '../../../contract/workspace.ts';
import type { ShotSlot } from '../../../record/roles.ts';

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

/** Which shot comes next. */

type Work = Pick<Workspace, 'shots' | 'rounds'>;

/** The shot that is still to be taken; `current` where none is. */
export function nextSlot(workspace: Work, current: ShotSlot = 'bare'): ShotSlot {
  return findMissingSlot(workspace) ?? current;
}

/** Keeps a word from flickering: a new one is shown once it has held for a while. */
interface Settler<T> {
  /** What to show now. */
  next(value: T, now_ms: number): T;
}

export function createSettler<T>(hold_ms: number): Settler<T> {
  let shown: { readonly value: T } | undefined;
  let coming: { readonly value: T; readonly since_ms: number } | undefined;
  return {
    next(value, now_ms) {
      shown ??= { value };
      if (value === shown.value) coming = undefined;
      else if (coming?.value !== value) coming = { value, since_ms: now_ms };
      if (coming && now_ms - coming.since_ms >= hold_ms) {
        shown = { value: coming.value };
        coming = undefined;
      }
      return shown.value;
    },
  };
}

/**
 * Holds a camera's exposure, white balance and focus where they stand, while the frames of a shot are gathered: a mean of
 * frames with different exposures is of none. Cameras that cannot be held are left as they are; the shot is taken all
 * the same, and what automatic setting does to it shows in what is seen of it.
 */

/** What a camera can be told by the Image Capture rules of the W3C, which the language's own types lack. */
const MODES = ['exposureMode', 'whiteBalanceMode', 'focusMode'] as const;
type ModeName = (typeof MODES)[number];
type Modes = Partial<Record<ModeName, string>>;

interface Held {
  getCapabilities?(): object;
  getSettings?(): object;
  applyConstraints(wanted: { advanced: object[] }): Promise<void>;
}

/** Those of the automatic modes that can be held, and how to leave them again; undefined where there are none. */
export function chooseModes(
  can: Partial<Record<ModeName, readonly string[]>>,
  now: Modes,
): { readonly held: Modes; readonly free: Modes } | undefined {
  const names = MODES.filter((name) => can[name]?.includes('manual') && now[name] !== 'manual');
  if (names.length === 0) return undefined;
  const free = names.map((name) => [name, now[name] ?? (can[name]!.includes('continuous') ? 'continuous' : undefined)]);
  return {
    held: Object.fromEntries(names.map((name) => [name, 'manual'])),
    free: Object.fromEntries(free.filter(([, mode]) => mode !== undefined)),
  };
}

/** The answer lets go again. Nothing is thrown. */
export function holdExposure(track: Held): () => void {
  const modes = chooseModes(track.getCapabilities?.() ?? {}, track.getSettings?.() ?? {});
  if (!modes) return () => {};
  const apply = (wanted: Modes) => track.applyConstraints({ advanced: [wanted] });
  const holding = apply(modes.held).catch(() => undefined);
  return () => void holding.then(() => apply(modes.free)).catch(() => undefined);
}
