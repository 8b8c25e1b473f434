/** What stays, what stands in the way of a cure, and where to look instead. */
import type { ReadingIncurable } from '../record/reading.ts';
import { describeTerm } from './terms.ts';

/** Common practice and plain optics, without a published source. */
const REASONS: Readonly<Record<string, string>> = {
  'framing-error': 'The septum may not stand in the middle of the aperture: correct the framing first.',
  'mirror-mount-slipped': 'A mirror’s mount may have slipped beyond what its screw can take back.',
  'attachment-not-square': 'The attachment may not stand square on the lens.',
  'mirror-pair-out-of-square': 'The two mirrors of one path may not be square to each other, which turns its picture.',
  'path-lengths-differ': 'The two paths through the attachment may differ in length.',
  'mirror-not-flat': 'A mirror may not be flat.',
  'lens-elements-differ': 'The lenses of the two paths may differ in focal length.',
  'mirror-bent': 'A mirror may be bent.',
  'mirror-strained-by-clamp': 'A clamp may strain a mirror.',
  'attachment-off-axis': 'The attachment may stand off the lens axis, or at an angle to it.',
};

const OBSTACLES: Readonly<Record<ReadingIncurable['obstacle'], string>> = {
  'no-adjustment': 'No adjustment of this attachment acts on it.',
  'range-exhausted': 'The adjustment that acts on it stands at the end of its travel.',
  'side-effects': 'The adjustment that acts on it would do more harm to the rest than good to this.',
};

export const INCURABLE_REASONS: readonly string[] = Object.keys(REASONS);
export const OBSTACLE_CODES: readonly string[] = Object.keys(OBSTACLES);

/** Throws on an unknown code, as `translateRefusal` does. */
export function translateIncurable(code: string): string {
  const words = REASONS[code];
  if (!words) throw new RangeError(`no wording for the reason "${code}"`);
  return words;
}

/** "The right-eye picture is 0.6 % too large. No adjustment of this attachment acts on it." */
export function formatIncurableTerm({ term, value, obstacle }: ReadingIncurable): string {
  return `The right-eye picture ${describeTerm(term, value)}. ${OBSTACLES[obstacle]}`;
}
