/** Which shot comes next. */
import type { ShotSlot } from '../../../contract/shots.ts';
import type { Workspace } from '../../../contract/workspace.ts';

/** The first lens without a photograph; with both there, whichever shot it was. */
export function nextSlot({ shots }: Pick<Workspace, 'shots'>, current: ShotSlot = 'left-lens'): ShotSlot {
  const has = (slot: ShotSlot) => shots.some((shot) => shot.slot === slot);
  if (!has('left-lens')) return 'left-lens';
  return has('right-lens') ? current : 'right-lens';
}
