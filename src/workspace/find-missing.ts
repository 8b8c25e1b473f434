/** What the state names and the folder no longer holds. Nothing is dropped for it; the operator hears of it. */
import type { Shot } from '../contract/shots.ts';
import { translateFailure, type WordedFailure } from '../wording/failures.ts';
import { photographsOf } from '../contract/workspace.ts';
import type { StoredState } from './stored-state.ts';
import type { PhotographStore } from './photograph-store.ts';
import type { ReadingStore } from './reading-store.ts';

export interface FoundState {
  readonly state: StoredState;
  readonly notices: readonly WordedFailure[];
}

const MISSING = 'photograph-missing';

/** Missed when the work was opened last, and perhaps back again. */
const isMissed = ({ examination }: Shot) => examination?.code === MISSING;

export async function findMissing(
  state: StoredState,
  photographs: PhotographStore,
  readings: ReadingStore,
): Promise<FoundState> {
  const notices: WordedFailure[] = [];
  const shots = await Promise.all(
    state.shots.map(async (shot) => {
      if ((await photographs.find(shot.sha256)) !== undefined)
        return isMissed(shot) ? { ...shot, examination: null } : shot;
      const failure = translateFailure(MISSING, { name: shot.name });
      notices.push(failure);
      return { ...shot, examination: { outcome: 'refused' as const, ...failure } };
    }),
  );

  const laidOut = new Set(state.shots.map(({ sha256 }) => sha256));
  const earlier = new Set(state.rounds.flatMap(photographsOf));
  const found = await Promise.all(
    [...earlier].filter((sha256) => !laidOut.has(sha256)).map((sha256) => photographs.find(sha256)),
  );
  const count = found.filter((path) => path === undefined).length;
  if (count > 0) notices.push(translateFailure('photographs-missing', { count }));

  for (const { number } of state.rounds) {
    if ((await readings.readText(number)) === undefined)
      notices.push(translateFailure('reading-missing', { round: number }));
  }
  return { state: { ...state, shots }, notices };
}
