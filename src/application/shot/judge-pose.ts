/** From where and which way round the camera looks at the target: refuses what cannot be meant. */
import type { FittedViews } from '../../geometry/fit-views.ts';
import { derivativeAt, type Homography } from '../../kernel/homography.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { obliquityOf } from '../../kernel/view.ts';

export type PoseCode = 'mirrored' | 'upside-down' | 'too-oblique';

/** Roll of the camera beyond which the picture counts as upside down, degrees. */
const MAX_ROLL_DEG = 120;
/** Angle between the line of sight and the screen's normal, degrees. */
const MAX_OBLIQUE_DEG = 60;
/**
 * Scatter of the marks as first read, in units of one pixel. Marks of the right target came out at 1.0 (sharp, blurred,
 * oblique, upside down, a third of the target); targets of other shapes, whose marks bear the same words in other
 * places and still agree with some degenerate view, came out above 350.
 */
const MAX_SEED_SCATTER = 20;

export function judgePose(fit: FittedViews): Refusal<PoseCode | 'inconsistent-marks'> | undefined {
  if (fit.scatter > MAX_SEED_SCATTER) return refuse('inconsistent-marks', { scatter_px: fit.scatter });
  return judgeView(fit.views[fit.eyes[0]]!.photoFromChart);
}

export function judgeView(photoFromChart: Homography): Refusal<PoseCode> | undefined {
  const [xx, xy, yx, yy] = derivativeAt(photoFromChart, { x: 0, y: 0 });
  // Chart y runs up, photo y down: an unmirrored view has a negative determinant.
  if (xx * yy - xy * yx > 0) return refuse('mirrored');
  const roll_deg = (Math.atan2(-yx, xx) * 180) / Math.PI;
  if (Math.abs(roll_deg) > MAX_ROLL_DEG) return refuse('upside-down', { roll_deg });

  const angle_deg = obliquityOf(photoFromChart);
  if (angle_deg > MAX_OBLIQUE_DEG) return refuse('too-oblique', { angle_deg, limit_deg: MAX_OBLIQUE_DEG });
  return undefined;
}
