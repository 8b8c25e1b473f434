/** Which of the photographs that lie in their places a round is measured from. */
import type { ShotSlot } from '../record/roles.ts';
import { closingOf, type Shot } from './shots.ts';
import type { Round } from './workspace.ts';

type RoundFacts = Pick<Round, 'number' | 'shots' | 'turns_made'>;

/**
 * A photograph without glasses, one through each lens, or all three, in the order in which they were added; undefined
 * where nothing can be measured yet. Photographs through the lenses that are older than the one without glasses are left
 * out, because nobody has looked through the glasses since; and so is one without glasses that was measured before turns
 * after which the lenses were photographed.
 */
export function photographsOfRound(shots: readonly Shot[], rounds: readonly RoundFacts[]): readonly Shot[] | undefined {
  const at = (slot: ShotSlot) => shots.find((shot) => shot.slot === slot);
  const [left, right, anyBare] = [at('left-lens'), at('right-lens'), at('bare')];
  const firsts = left && right && [firstRoundOf(left, rounds), firstRoundOf(right, rounds)];
  const bareFirst = anyBare && firstRoundOf(anyBare, rounds);
  const isPair = firsts !== undefined && !(bareFirst !== undefined && bareFirst > Math.min(...firsts));
  const isBareOld =
    isPair && bareFirst !== undefined && rounds.some((round) => wasTurned(round, bareFirst, Math.max(...firsts)));
  const bare = isBareOld ? undefined : anyBare;
  const closing = isPair ? closingOf(shots) : undefined;
  const chosen = [...(isPair ? [left!, right!] : []), ...(bare ? [bare] : []), ...(closing ? [closing] : [])];
  return chosen.length === 0 ? undefined : chosen.toSorted((a, b) => a.added_at.localeCompare(b.added_at));
}

/** Number of the round in which a photograph was first measured; infinite for a new one. */
function firstRoundOf({ sha256 }: Shot, rounds: readonly RoundFacts[]): number {
  const first = rounds.find((round) => Object.values(round.shots).includes(sha256));
  return first?.number ?? Number.POSITIVE_INFINITY;
}

function wasTurned({ number, turns_made }: RoundFacts, from: number, to: number): boolean {
  return number >= from && number < to && (turns_made?.length ?? 0) > 0;
}

/** Whether a photograph has been measured in some round. */
export function isMeasured(shot: Shot, rounds: readonly RoundFacts[]): boolean {
  return Number.isFinite(firstRoundOf(shot, rounds));
}
