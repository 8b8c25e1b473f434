/** What the operator has to do next, from how the work stands. */
import { closingOf, type Shot, type ShotSlot } from '../../../../contract/shots.ts';
import type { Workspace } from '../../../../contract/workspace.ts';

export type NextStep =
  | { readonly step: 'both' | 'left' | 'right' | 'wait' | 'measure' | 'measuring' | 'measured' }
  /** One photograph, or both, cannot be used. */
  | { readonly step: 'again'; readonly slots: readonly ShotSlot[] }
  /** The same photograph stands at both places. */
  | { readonly step: 'twice' };

export const shotAt = ({ shots }: Workspace, slot: ShotSlot): Shot | undefined =>
  shots.find((shot) => shot.slot === slot);

export function findNextStep(workspace: Workspace): NextStep {
  const left = shotAt(workspace, 'left-lens');
  const right = shotAt(workspace, 'right-lens');
  if (workspace.jobs.some(({ kind, state }) => kind === 'measure' && (state === 'running' || state === 'waiting'))) {
    return { step: 'measuring' };
  }
  const refused = [left, right].flatMap((shot) => (shot?.examination?.outcome === 'refused' ? [shot.slot] : []));
  if (refused.length > 0) return { step: 'again', slots: refused };
  if (!left && !right) return { step: 'both' };
  if (!left) return { step: 'left' };
  if (!right) return { step: 'right' };
  if (left.sha256 === right.sha256) return { step: 'twice' };
  if (left.examination === null || right.examination === null) return { step: 'wait' };
  const last = workspace.rounds.at(-1);
  const isMeasured =
    last?.shots['left-lens'] === left.sha256 &&
    last.shots['right-lens'] === right.sha256 &&
    last.shots.closing === closingOf(workspace.shots)?.sha256;
  return { step: isMeasured ? 'measured' : 'measure' };
}

export type PairConcern = 'exchanged' | 'both-left' | 'both-right' | 'without-glasses';

/**
 * What looks wrong about two usable photographs together. It does not forbid to measure: eyes that are exchanged at the
 * projector look the same as photographs that are.
 */
export function findPairConcern(workspace: Workspace): PairConcern | null {
  const [left, right] = (['left-lens', 'right-lens'] as const).map((slot) => {
    const examination = shotAt(workspace, slot)?.examination;
    return examination?.outcome === 'usable' ? examination.shows : undefined;
  });
  if (left === undefined || right === undefined) return null;
  if (left === 'right' && right === 'left') return 'exchanged';
  if (left === 'both' && right === 'both') return 'without-glasses';
  if (left === 'left' && right === 'left') return 'both-left';
  if (left === 'right' && right === 'right') return 'both-right';
  return null;
}
