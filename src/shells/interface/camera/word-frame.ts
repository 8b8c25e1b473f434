/** Which words of the wording a verdict is put into. */
import type { FrameVerdict } from '../../../contract/live.ts';
import type { ShotSlot, ShownEye } from '../../../contract/shots.ts';

type Hint = FrameVerdict['hint'];
/** `dim`: the target is there and dark; `dark`: nothing is. `wrong-lens`: the other eye's picture than the slot's. */
export type FrameSentence = Hint | 'dim' | 'wrong-lens' | 'one-eye';

const EYE_OF_SLOT: Readonly<Record<ShotSlot, ShownEye>> = {
  'left-lens': 'left',
  'right-lens': 'right',
  // A closing shot repeats the first one.
  closing: 'left',
  bare: 'both',
};

/** The one sentence for a frame, for whoever takes the shot of `slot`. */
export function sentenceOf({ hint, shows, marks, isSteady }: FrameVerdict, slot: ShotSlot): FrameSentence {
  if (hint === 'dark') return marks.length > 0 ? 'dim' : 'dark';
  const wanted = EYE_OF_SLOT[slot];
  if (hint === 'both-eyes' && wanted === 'both') return isSteady ? 'ready' : 'moving';
  if (hint !== 'ready' && hint !== 'moving') return hint;
  if (shows === null || shows === wanted || hint === 'moving') return hint;
  return wanted === 'both' ? 'one-eye' : 'wrong-lens';
}

/** Nothing stands in the way of a good shot; of the wrong lens nobody but the operator can be sure. */
export function isGood(sentence: FrameSentence): boolean {
  return sentence === 'ready';
}
