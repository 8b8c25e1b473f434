/** How the pictures have to go, without what is smaller than its own uncertainty: nobody can bring that about. */
import type { MeasuredReading } from '../../../../record/reading.ts';

type Motion = MeasuredReading['image_motion'][number];

export function listMotions({ image_motion, misalignment }: MeasuredReading): Motion[] {
  const certain = (value: number, u: number) => (Math.abs(value) > 2 * u ? value : 0);
  return image_motion.map((motion) => ({
    eye: motion.eye,
    vertical_pct: certain(motion.vertical_pct, misalignment.vertical_offset_pct.u),
    horizontal_pct: certain(motion.horizontal_pct, misalignment.horizontal_offset_pct.u),
    rotation_deg: certain(motion.rotation_deg, misalignment.rotation_deg.u),
  }));
}
