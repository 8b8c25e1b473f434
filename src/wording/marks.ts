/** How many marks counted. */
import type { MeasuredReading } from '../record/reading.ts';

/** "46 of 47 left-eye marks, 48 of 48 right-eye marks". */
export function formatMarks(marks: MeasuredReading['marks']): string {
  return `${marks.left} of ${marks.expected_left} left-eye marks, ${marks.right} of ${marks.expected_right} right-eye marks`;
}
