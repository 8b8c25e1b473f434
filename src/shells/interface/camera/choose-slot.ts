/** Which shot comes next. */
import type { ShotSlot } from '../../../contract/shots.ts';
import type { Workspace } from '../../../contract/workspace.ts';

/** The first lens without a photograph; with both there, the left one begins a new pair. */
export function nextSlot({ shots }: Pick<Workspace, 'shots'>): ShotSlot {
  const has = (slot: ShotSlot) => shots.some((shot) => shot.slot === slot);
  return has('left-lens') && !has('right-lens') ? 'right-lens' : 'left-lens';
}
