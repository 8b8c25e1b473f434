/** Which of the photographs that lie in their places a round is measured from, and which is still wanted. */
import type { ShotSlot } from '../record/roles.ts';
import { closingOf, type Shot } from './shots.ts';
import { photographsOf, type Round, type Workspace } from './workspace.ts';

type RoundFacts = Pick<Round, 'number' | 'shots' | 'repeats' | 'turns_made'>;

/**
 * Photographs without glasses, or through both lenses, or all of them, in the order in which they were added; undefined
 * where nothing can be measured yet. Photographs through the lenses that are older than those without glasses are left
 * out, because nobody has looked through the glasses since; and so are those without glasses that were measured before
 * turns after which the lenses were photographed.
 */
export function photographsOfRound(shots: readonly Shot[], rounds: readonly RoundFacts[]): readonly Shot[] | undefined {
  const of = (slot: ShotSlot) => shots.filter((shot) => shot.slot === slot);
  const [left, right, anyBare] = [of('left-lens'), of('right-lens'), of('bare')];
  const firstsOf = (some: readonly Shot[]) => some.map((shot) => firstRoundOf(shot, rounds));
  const firsts = firstsOf([...left, ...right]);
  const isPair =
    left.length > 0 &&
    right.length > 0 &&
    !(anyBare.length > 0 && Math.min(...firstsOf(anyBare)) > Math.min(...firsts));
  const isOld = (bare: Shot) => {
    const first = firstRoundOf(bare, rounds);
    return isPair && rounds.some((round) => wasTurned(round, first, Math.max(...firsts)));
  };
  const bare = anyBare.filter((shot) => !isOld(shot));
  const closing = isPair ? closingOf(shots) : undefined;
  const chosen = [...(isPair ? [...left, ...right] : []), ...bare, ...(closing ? [closing] : [])];
  return chosen.length === 0 ? undefined : chosen.toSorted((a, b) => a.added_at.localeCompare(b.added_at));
}

/** Number of the round in which a photograph was first measured; infinite for a new one. */
function firstRoundOf({ sha256 }: Shot, rounds: readonly RoundFacts[]): number {
  const first = rounds.find((round) => photographsOf(round).includes(sha256));
  return first?.number ?? Number.POSITIVE_INFINITY;
}

function wasTurned({ number, turns_made }: RoundFacts, from: number, to: number): boolean {
  return number >= from && number < to && (turns_made?.length ?? 0) > 0;
}

/** Whether a photograph has been measured in some round. */
export function isMeasured(shot: Shot, rounds: readonly RoundFacts[]): boolean {
  return Number.isFinite(firstRoundOf(shot, rounds));
}

/** Whether a photograph shows what is no more: something was turned since, or the next round was begun. */
export function isPast(shot: Shot, rounds: readonly RoundFacts[], past_round = 0): boolean {
  const first = firstRoundOf(shot, rounds);
  return first <= past_round || rounds.some((round) => wasTurned(round, first, Number.POSITIVE_INFINITY));
}

/**
 * The photograph that the round still wants: without glasses, and at the beginning and the end of the work through both
 * lenses as well. A pair that was begun is completed first; one that is complete is enough.
 */
export function findMissingSlot({ shots, rounds }: Pick<Workspace, 'shots' | 'rounds'>): ShotSlot | null {
  const fresh = shots.filter((shot) => !isMeasured(shot, rounds)).map(({ slot }) => slot);
  const [hasLeft, hasRight] = [fresh.includes('left-lens'), fresh.includes('right-lens')];
  if (hasLeft !== hasRight) return hasLeft ? 'right-lens' : 'left-lens';
  if (hasLeft) return null;
  const isClosing = isToClose(rounds);
  if (!isClosing && !fresh.includes('bare')) return 'bare';
  return isClosing || rounds.length === 0 ? 'left-lens' : null;
}

/** Inside tolerance by photographs without glasses alone: one through each lens closes the work. */
export function isToClose(rounds: readonly Round[]): boolean {
  const last = rounds.at(-1);
  return last?.verdict === 'geometry-within' && (last.turns_made?.length ?? 0) === 0;
}
