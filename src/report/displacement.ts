/**
 * What a term of the misalignment does where it does most: the largest displacement of one picture against the other
 * within the picture area, in percent of the picture height. Vertical for every term but the horizontal offset,
 * because vertical error is what tires the eyes.
 *
 *   d_y(x,y) = dy + rot x + size y - stretch y + shear x + keyH x y + keyV y^2,   |x| <= aspect/2, |y| <= 1/2
 */
import type { ReadingHouse } from '../record/reading.ts';
import type { ReportedField } from '../record/term-fields.ts';

/** Largest |d_y| (|d_x| for the horizontal offset) for one unit of the term's reported value. */
export function reachOfTerm(term: ReportedField, aspect: number): number {
  switch (term) {
    case 'vertical_offset_pct':
    case 'horizontal_offset_pct':
    case 'worst_vertical_pct':
      return 1;
    case 'rotation_deg':
      return ((100 * Math.PI) / 180) * (aspect / 2);
    case 'size_pct':
    case 'stretch_pct':
      return 1 / 2;
    case 'shear_pct':
      return aspect / 2;
    case 'keystone_h_pct':
      return aspect / 4;
    case 'keystone_v_pct':
      return 1 / 4;
  }
}

/** Percent of the picture height as millimetres on this screen; null where the screen's size is not known. */
export function millimetresOnScreen(pct: number, house: ReadingHouse): number | null {
  return house.picture_height_mm === null ? null : (pct / 100) * house.picture_height_mm;
}

/** Angle under which a displacement is seen from `distance_ih` picture heights, atan(d / distance), in arcminutes. */
export function arcminutesFrom(pct: number, distance_ih: number): number {
  return (Math.atan(pct / 100 / distance_ih) * 180 * 60) / Math.PI;
}
