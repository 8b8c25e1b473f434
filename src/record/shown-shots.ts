/** The photographs that a reading shows: those in which the marks that it lists were seen. */
import type { MeasuredReading, ReadingShot } from './reading.ts';
import { type ShotRole, shownRoles } from './roles.ts';

export interface ShownShot extends ReadingShot {
  readonly role: ShotRole;
}

/**
 * One without glasses, or one through each lens, the left one first; one through a lens alone where its ghost was strong
 * enough to show both pictures. Of several taken the same way the one that stands for all; readings of versions that did
 * not say which that is are shown with the first. `undefined` where one is missing.
 */
export function listShownShots({
  geometry_from,
  shots,
}: Pick<MeasuredReading, 'geometry_from' | 'shots'>): readonly (ShownShot | undefined)[] {
  const marked = shots.filter((shot): shot is ShownShot => shot.marks_shown === true && shot.role !== 'closing');
  if (marked.length > 0) return marked.toSorted((a, b) => a.role.localeCompare(b.role));
  return shownRoles({ geometry_from }).map((role) => shots.find((shot): shot is ShownShot => shot.role === role));
}
