/**
 * The live ghost as a bar: what it is now, the least so far, and which way it goes. A ghost goes with the squared sine of
 * the angle, so the bar is as long as its root: it shrinks evenly as the polarizer turns.
 */
import type { FrameVerdict } from '../../../../contract/live.ts';
import type { Eye } from '../../../../kernel/eye.ts';

export interface BarState {
  /** The last few frames' ghosts, percent, with the time of each; null where it is too faint for the camera. */
  readonly seen: readonly { readonly at_ms: number; readonly ghost_pct: number | null }[];
  /** Percent, by the middle of some frames; null while nothing is seen, `faint` below what the camera shows. */
  readonly now: number | 'faint' | null;
  readonly lowest: number | 'faint' | null;
  readonly way: 'falling' | 'rising' | 'resting' | null;
}

export const EMPTY_BAR: BarState = { seen: [], now: null, lowest: null, way: null };

/** Frames that one value is the middle of: noise of video and weave of film are about so quick. */
const MIDDLE_OF = 3;
const REMEMBERED_MS = 2400;
/** A machine that is busy judges a frame in a second or two: the frames of one value may be so old. */
const OLDEST_MS = 10_000;
/** What a ghost was so long ago tells which way it goes. */
const LOOK_BACK_MS = 900;
/** A change by less than this part is none. */
const MIN_CHANGE = 0.12;
/** Less than this is in the noise of a video. */
const MIN_PCT = 0.2;
/** A full bar: lens and polarizer some 36 degrees apart. */
const FULL_PCT = 35;

/** `eye`: whose picture belongs to the lens before the camera. A frame without the target changes nothing but the present. */
export function followGhost(before: BarState, verdict: FrameVerdict, eye: Eye, at_ms: number): BarState {
  const ghost_pct = ghostOf(verdict, eye);
  if (ghost_pct === undefined) return { ...before, seen: [], now: null, way: null };
  const all = [...before.seen, { at_ms, ghost_pct }];
  const seen = all.filter((each, i) => at_ms - each.at_ms <= (all.length - i <= MIDDLE_OF ? OLDEST_MS : REMEMBERED_MS));
  if (seen.length < MIDDLE_OF) return { ...before, seen, now: null, way: null };
  const now = middleOf(seen.slice(-MIDDLE_OF));
  const earlier = seen.filter((each) => at_ms - each.at_ms >= LOOK_BACK_MS).slice(-MIDDLE_OF);
  const way = earlier.length < MIDDLE_OF ? null : compare(middleOf(earlier), now);
  return { seen, now, lowest: lesser(before.lowest, now), way };
}

/** 0 to 1. */
export function lengthOf(ghost: number | 'faint' | null): number {
  if (ghost === null || ghost === 'faint') return 0;
  return Math.min(1, Math.sqrt(Math.max(0, ghost) / FULL_PCT));
}

/** Undefined where no target is seen. */
function ghostOf({ shows, leak_pct }: FrameVerdict, eye: Eye): number | null | undefined {
  if (shows === null) return undefined;
  if (shows === 'both') return 100;
  if (shows === eye) return leak_pct;
  // The other picture is the stronger one: this lens shows more of the ghost than of its own.
  return leak_pct === null || leak_pct <= 0 ? 100 : Math.min(1e4, 1e4 / leak_pct);
}

function middleOf(seen: BarState['seen']): number | 'faint' {
  const sorted = seen.map(({ ghost_pct }) => ghost_pct ?? 0).sort((a, b) => a - b);
  const middle = sorted[Math.floor(sorted.length / 2)]!;
  return middle < MIN_PCT ? 'faint' : middle;
}

const amountOf = (ghost: number | 'faint') => (ghost === 'faint' ? 0 : ghost);

function lesser(lowest: BarState['lowest'], now: number | 'faint'): number | 'faint' {
  return lowest === null || amountOf(now) < amountOf(lowest) ? now : lowest;
}

function compare(earlier: number | 'faint', now: number | 'faint'): BarState['way'] {
  const [a, b] = [amountOf(earlier), amountOf(now)];
  if (Math.abs(b - a) <= MIN_CHANGE * Math.max(a, b)) return 'resting';
  return b < a ? 'falling' : 'rising';
}
