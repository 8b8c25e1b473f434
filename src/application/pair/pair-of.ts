/** The two eyes' views as the misalignment is measured from: homographies with their joint covariance, lens left out. */
import { type FittedViews, HOMOGRAPHY_PARAMETERS } from '../../geometry/fit-views.ts';
import type { EyePair } from '../../geometry/measure-misalignment.ts';
import { createMatrix, elementAt } from '../../kernel/linear-algebra.ts';

/** Throws RangeError where only one eye was fitted: callers have compared the shots before. */
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
