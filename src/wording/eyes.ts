/** Which eye sees which picture, in words. */
import type { MeasuredReading } from '../record/reading.ts';
import type { Eye } from '../kernel/eye.ts';

type Assignment = MeasuredReading['eyes']['assignment'];

const ASSIGNMENTS: Readonly<Record<Assignment, string>> = {
  correct: 'Each eye sees its own picture.',
  swapped: 'The eyes are exchanged: the left lens shows the right-eye picture and the right lens the left-eye picture.',
  undetermined: 'Both lenses show both pictures alike: nothing tells the eyes apart.',
};

export function formatAssignment(assignment: Assignment): string {
  return ASSIGNMENTS[assignment];
}

type EyeClass = NonNullable<MeasuredReading['eyes']['matrix']>['class'];

/** Null where the assignment has said it already. */
const CLASSES: Readonly<Record<EyeClass, string | null>> = {
  separated: 'The pictures are well apart: hardly any of one comes through the other’s lens.',
  swapped: null,
  'one-eye-missing': 'One eye’s picture comes through neither lens.',
  'both-in-both': null,
  'balanced-leak': 'Both lenses let some of the other picture through, about alike.',
  'one-sided-leak': 'One lens lets clearly more of the other picture through than its neighbour.',
  undecided: 'How the ghosts of the two lenses compare cannot be told from these photographs.',
};

export function formatEyeClass(code: EyeClass): string | null {
  return CLASSES[code];
}

export function formatAssignmentOfLens(assignment: Assignment, lens: Eye): string {
  if (assignment === 'undetermined') return 'Both pictures come through alike; weaker over stronger:';
  const shown = (assignment === 'correct') === (lens === 'left') ? 'left' : 'right';
  const ghost = shown === 'left' ? 'right' : 'left';
  return `Shows the ${shown}-eye picture${shown === lens ? '' : ', the wrong one'}. Ghost of the ${ghost}-eye picture:`;
}
