/** What the operator has to do next, from how the work stands. */
import { closingOf, type Examination, type SeenMark, type Shot } from '../../../../contract/shots.ts';
import type { Workspace } from '../../../../contract/workspace.ts';
import { translate } from '../../../../wording/translate.ts';
import type { ShotSlot } from '../../../../record/roles.ts';

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

type PairConcern = 'exchanged' | 'both-left' | 'both-right' | 'without-glasses';

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

/** The numbers behind a usable photograph's sentence, few and short. */

type Usable = Extract<Examination, { outcome: 'usable' }>;

/** Shares below this are no clipping that anybody could see or would have to mend. */
const MIN_CLIPPED_PCT = 0.05;

export function formatFacts(examination: Usable): string[] {
  const { shows, marks, expected, blur_px, brightest, clipped_pct, leak_pct } = examination;
  const stronger = shows === 'both' ? marks : marks.filter(({ eye }) => eye === shows);
  return [
    translate(`shots.shows-${shows}`),
    translate('shots.marks', { count: new Set(stronger.map(({ id }) => id)).size, expected }),
    translate('shots.blur', { blur: blur_px }),
    translate('shots.brightest', { percent: Math.round(brightest * 100) }),
    clipped_pct < MIN_CLIPPED_PCT ? translate('shots.unclipped') : translate('shots.clipped', { percent: clipped_pct }),
    ...(leak_pct === null ? [] : [translate('shots.leak', { percent: leak_pct })]),
  ];
}

/**
 * The part of a photograph that is worth looking at: the marks with a margin around them, or the whole photograph where
 * hardly any were found. Photo coordinates; the photograph reaches from -0.5 to its size less 0.5.
 */

interface PhotoFrame {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Fewer marks say little about where the picture is. */
const MIN_MARKS = 8;
/** Of the width of the marks' region, on every side: shows that the picture is whole and what stands around it. */
const MARGIN = 0.1;

export function frameMarks(
  marks: readonly Pick<SeenMark, 'x' | 'y'>[],
  width_px: number,
  height_px: number,
): PhotoFrame {
  if (marks.length < MIN_MARKS) return { x: -0.5, y: -0.5, width: width_px, height: height_px };
  const xs = marks.map(({ x }) => x);
  const ys = marks.map(({ y }) => y);
  const margin = MARGIN * (Math.max(...xs) - Math.min(...xs));
  const left = Math.max(-0.5, Math.min(...xs) - margin);
  const top = Math.max(-0.5, Math.min(...ys) - margin);
  const right = Math.min(width_px - 0.5, Math.max(...xs) + margin);
  const bottom = Math.min(height_px - 0.5, Math.max(...ys) + margin);
  return { x: left, y: top, width: right - left, height: bottom - top };
}
