/** Which of the two pictures an adjustment has moved in the photograph, where the camera stood still between two rounds. */
import { pictureGrid } from '../../geometry/rectify-mean.ts';
import type { Eye } from '../../kernel/eye.ts';
import { transfer } from '../../kernel/homography.ts';
import type { House } from '../../record/house.ts';
import type { UnwordedMeasured } from '../../record/reading.ts';
import { type MadeTurn, sumTurns } from './move-adjustments.ts';

/** A reading, and the turns that led to it. */
export interface TurnedRound {
  readonly reading: Pick<UnwordedMeasured, 'misalignment' | 'shots' | 'eyes' | 'house' | 'evidence'>;
  /** Noted since the round before; of the first one they count for nothing. */
  readonly made: readonly MadeTurn[];
}

type Seen = TurnedRound['reading'];

/** The picture that should move did so by less than a quarter of the change, in the photograph: the other one moved. */
const STOOD_STILL = 0.25;
/** Below this, percent of the picture height, film and camera move as much as the turn: nothing is told. */
const MIN_CHANGE_PCT = 0.05;

/**
 * The adjustment that moved the other picture than the House says, in the last of the rounds; null where it moved the right
 * one, several were turned, it moves both, or nothing can be told.
 */
export function findPictureMoved(house: House, rounds: readonly TurnedRound[]): string | null {
  const [before, after] = rounds.slice(-2);
  if (!before || !after) return null;
  const [only, ...others] = sumTurns(after.made);
  const adjustment = house.attachment?.adjustments.find(({ id }) => id === only?.adjustment);
  if (!adjustment || others.length > 0 || !('moves' in adjustment) || adjustment.moves === 'apart') return null;
  return didOtherPictureMove(before.reading, after.reading, adjustment.moves) ? adjustment.id : null;
}

function didOtherPictureMove(before: Seen, after: Seen, moves: Eye): boolean {
  const change = (field: 'vertical_offset_pct' | 'horizontal_offset_pct') =>
    after.misalignment[field].value - before.misalignment[field].value;
  if (Math.hypot(change('vertical_offset_pct'), change('horizontal_offset_pct')) < MIN_CHANGE_PCT) return false;
  const other = moves === 'left' ? 'right' : 'left';
  const grid = pictureGrid(after.house.aspect, 5, 3);
  const motion = (eye: Eye) =>
    grid.map((at) => {
      const [from, to] = [before, after].map((each) => transfer(each.evidence.photo_from_chart[eye], at));
      return { x: to!.x - from!.x, y: to!.y - from!.y };
    });
  const [should, stays] = [motion(moves), motion(other)];
  const size = (points: readonly { x: number; y: number }[]) => Math.hypot(...points.flatMap(({ x, y }) => [x, y]));
  const against = should.map(({ x, y }, i) => ({ x: x - stays[i]!.x, y: y - stays[i]!.y }));
  return size(should) < STOOD_STILL * size(against);
}
