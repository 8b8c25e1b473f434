/** Which round is offered for keeping, and which entry it was measured after. */
import type { Round } from '../../../../contract/workspace.ts';

export interface Offer {
  readonly round: Round;
  /** The entry of the last kept round before it; null where there is none. */
  readonly follows: string | null;
}

/** The rounds that are not kept yet, the newest first. */
export function listOffers(rounds: readonly Round[]): Offer[] {
  return rounds
    .filter((round) => round.kept_as == null)
    .map((round) => ({
      round,
      follows: rounds.findLast(({ number, kept_as }) => number < round.number && kept_as != null)?.kept_as ?? null,
    }))
    .reverse();
}
