/** Whether two pictures can be those of one print: refuses what only two different targets explain. */
import { type FittedViews, HOMOGRAPHY_PARAMETERS } from '../../geometry/fit-views.ts';
import type { EyePair } from '../../geometry/measure-misalignment.ts';
import type { Misalignment } from '../../geometry/misalignment.ts';
import { createMatrix, elementAt } from '../../kernel/linear-algebra.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';

/** Offsets up to half a picture happen (a film threaded half a frame out); shapes this different do not. */
const MAX_OFFSET_IH = 0.6;
const MAX_SHAPE_DIFFERENCE = 0.1;
const MAX_ROTATION_RAD = 0.2;

export function judgePair(fit: FittedViews, { terms }: Misalignment): Refusal<'inconsistent-marks'> | undefined {
  const offset = Math.hypot(terms.verticalOffset.value, terms.horizontalOffset.value);
  const shape = Math.max(...[terms.size, terms.stretch, terms.shear].map(({ value }) => Math.abs(value)));
  const isPlausible =
    offset < MAX_OFFSET_IH &&
    shape < MAX_SHAPE_DIFFERENCE &&
    Math.abs(terms.rotation.value) < MAX_ROTATION_RAD &&
    fit.used.filter(Boolean).length > fit.used.length / 2;
  return isPlausible ? undefined : refuse('inconsistent-marks', { offset_pct: 100 * offset, shape_pct: 100 * shape });
}

/**
 * The two eyes' views as the misalignment is measured from: homographies with their joint covariance, lens left out.
 *
 * Throws RangeError where only one eye was fitted: callers have compared the shots before.
 */
export function pairOf(fit: FittedViews): EyePair {
  const { left, right } = fit.scaledHomographies;
  if (!left || !right) throw new RangeError('a misalignment needs the views of both eyes');
  const size = 2 * HOMOGRAPHY_PARAMETERS;
  const covariance = createMatrix(size, size);
  for (let r = 0; r < size; r++) {
    for (let c = 0; c < size; c++) covariance.data[r * size + c] = elementAt(fit.covariance, r, c);
  }
  return { left, right, covariance };
}
