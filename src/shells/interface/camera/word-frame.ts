/** Which words of the wording a verdict is put into. */
import type { FrameVerdict } from '../../../contract/live.ts';
import type { ShotSlot, ShownEye } from '../../../contract/shots.ts';

type Hint = FrameVerdict['hint'];
/**
 * `dim`: the target is there and dark; `dark`: nothing is. `watching`: too early to say whether it moves. `wrong-lens`: the
 * other eye's picture than the slot's; `one-eye`: one where both are wanted.
 */
export type FrameSentence = Hint | 'dim' | 'watching' | 'wrong-lens' | 'one-eye';

const EYE_OF_SLOT: Readonly<Record<ShotSlot, ShownEye>> = {
  'left-lens': 'left',
  'right-lens': 'right',
  // A closing shot repeats the first one.
  closing: 'left',
  bare: 'both',
};

/** The one sentence for a frame, for whoever takes the shot of `slot`. */
export function sentenceOf(verdict: FrameVerdict, slot: ShotSlot): FrameSentence {
  const { hint, shows, marks, movement_px, isSteady } = verdict;
  if (hint === 'dark') return marks.length > 0 ? 'dim' : 'dark';
  const wanted = EYE_OF_SLOT[slot];
  const isNothingWrong = hint === 'ready' || hint === 'moving' || (hint === 'both-eyes' && wanted === 'both');
  if (!isNothingWrong) return hint;
  if (!isSteady) return movement_px === null ? 'watching' : 'moving';
  if (shows === null || shows === wanted) return 'ready';
  return wanted === 'both' ? 'one-eye' : 'wrong-lens';
}

/** Nothing stands in the way of a good shot; of the wrong lens nobody but the operator can be sure. */
export function isGood(sentence: FrameSentence): boolean {
  return sentence === 'ready';
}

/** A slot as messages choose by it, which cannot hold a hyphen: `left`, `right`, `closing`, `bare`. */
export function formatSlot(slot: ShotSlot): string {
  return slot.replace('-lens', '');
}
