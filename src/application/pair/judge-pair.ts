/** Whether two pictures can be those of one print: refuses what only two different targets explain. */
import type { JointFit } from '../../geometry/fit-joint-views.ts';
import type { Misalignment } from '../../geometry/misalignment.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';

/** Offsets up to half a picture happen (a film threaded half a frame out); shapes this different do not. */
const MAX_OFFSET_IH = 0.6;
const MAX_SHAPE_DIFFERENCE = 0.1;
const MAX_ROTATION_RAD = 0.2;

export function judgePair(
  fit: Pick<JointFit, 'marks'>,
  { terms }: Misalignment,
): Refusal<'inconsistent-marks'> | undefined {
  const offset = Math.hypot(terms.verticalOffset.value, terms.horizontalOffset.value);
  const shape = Math.max(...[terms.size, terms.stretch, terms.shear].map(({ value }) => Math.abs(value)));
  const isPlausible =
    offset < MAX_OFFSET_IH &&
    shape < MAX_SHAPE_DIFFERENCE &&
    Math.abs(terms.rotation.value) < MAX_ROTATION_RAD &&
    fit.marks.filter(({ status }) => status === 'used').length > fit.marks.length / 2;
  return isPlausible ? undefined : refuse('inconsistent-marks', { offset_pct: 100 * offset, shape_pct: 100 * shape });
}
