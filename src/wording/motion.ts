/** Where a picture must go, for a house whose adjustments are not known. */
import type { MeasuredReading } from '../record/reading.ts';
import { formatFigures } from './numbers.ts';

type Motion = MeasuredReading['image_motion'][number];

/** "Right-eye picture: 0.41 % down, 0.28 % to the left, 0.021° clockwise, as seen from the audience." */
export function formatMotion(motion: Motion): string {
  const way = (value: number, unit: string, positive: string, negative: string) =>
    value === 0 ? null : `${formatFigures(Math.abs(value))}${unit} ${value > 0 ? positive : negative}`;
  const parts = [
    way(motion.vertical_pct, ' %', 'up', 'down'),
    way(motion.horizontal_pct, ' %', 'to the right', 'to the left'),
    way(motion.rotation_deg, '°', 'counter-clockwise', 'clockwise'),
  ].filter((part) => part !== null);
  const name = motion.eye === 'left' ? 'Left-eye picture' : 'Right-eye picture';
  return parts.length === 0 ? `${name}: stays.` : `${name}: ${parts.join(', ')}, as seen from the audience.`;
}
