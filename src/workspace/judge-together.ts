/**
 * What the photographs of the two lenses say together and none of them alone: the same one twice, two sizes, the same
 * eye twice. It is said of the one that was added last; the examination of each by itself stays as it is underneath.
 */
import type { Shot } from '../contract/shots.ts';
import { translateRefusal } from '../wording/refusals.ts';

/** `shots` in the order in which they were added. */
export function judgeTogether(shots: readonly Shot[]): Shot[] {
  const [, second] = shots.filter(({ slot }) => slot === 'left-lens' || slot === 'right-lens');
  if (!second) return [...shots];
  const conflict = findConflict(shots.find(isLeft)!, shots.find(isRight)!);
  if (!conflict) return [...shots];
  const { code, facts } = conflict;
  const { message, remedy } = translateRefusal(code, facts, null);
  return shots.map((shot) =>
    shot === second && shot.examination?.outcome === 'usable'
      ? { ...shot, examination: { ...shot.examination, code, message, remedy } }
      : shot,
  );
}

const isLeft = ({ slot }: Shot) => slot === 'left-lens';
const isRight = ({ slot }: Shot) => slot === 'right-lens';

interface Conflict {
  readonly code: string;
  readonly facts: Readonly<Record<string, number | string>>;
}

function findConflict(left: Shot, right: Shot): Conflict | undefined {
  if (left.sha256 === right.sha256) return { code: 'same-photo-twice', facts: {} };
  if (left.width_px === null || right.width_px === null) return undefined;
  if (left.width_px !== right.width_px || left.height_px !== right.height_px) {
    const facts = {
      left_width_px: left.width_px,
      left_height_px: left.height_px!,
      right_width_px: right.width_px,
      right_height_px: right.height_px!,
    };
    return { code: 'different-size', facts };
  }
  if (left.examination?.outcome !== 'usable' || right.examination?.outcome !== 'usable') return undefined;
  const { shows } = left.examination;
  return shows !== 'both' && shows === right.examination.shows
    ? { code: 'same-eye-twice', facts: { eye: shows } }
    : undefined;
}
