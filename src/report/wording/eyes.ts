/** Which eye sees which picture, in words. */
import type { MeasuredReading } from '../../record/reading.ts';

type Assignment = MeasuredReading['eyes']['assignment'];

const ASSIGNMENTS: Readonly<Record<Assignment, string>> = {
  correct: 'Each eye sees its own picture.',
  swapped: 'The eyes are exchanged: the left lens shows the right-eye picture and the right lens the left-eye picture.',
  undetermined: 'Both lenses show both pictures alike: nothing tells the eyes apart.',
};

export function wordAssignment(assignment: Assignment): string {
  return ASSIGNMENTS[assignment];
}

export function wordAssignmentOfLens(assignment: Assignment, lens: 'left' | 'right'): string {
  if (assignment === 'undetermined') return 'Both pictures come through alike; weaker over stronger:';
  const shown = (assignment === 'correct') === (lens === 'left') ? 'left' : 'right';
  const ghost = shown === 'left' ? 'right' : 'left';
  return `Shows the ${shown}-eye picture${shown === lens ? '' : ', the wrong one'}. Ghost of the ${ghost}-eye picture:`;
}
