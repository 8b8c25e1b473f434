/** What the operator has to do next, from how the work stands. */
import { isMeasured, isPast, isToClose, photographsOfRound } from '../../../../contract/photographs-of-round.ts';
import type { Examination, SeenMark, Shot } from '../../../../contract/shots.ts';
import { photographsOf, type Round, type Workspace } from '../../../../contract/workspace.ts';
import type { Eye } from '../../../../kernel/eye.ts';
import { isOfLens, type ShotSlot } from '../../../../record/roles.ts';
import { translate } from '../../../../wording/translate.ts';

type MeasuredKind = 'bare' | 'pair' | 'all';

export type NextStep =
  /** Nothing can be measured: at the very beginning, in a later round, with one lens only, while photographs are judged. */
  | { readonly step: 'begin' | 'round' | 'left' | 'right' | 'wait' | 'measuring' }
  /** What can be measured, and the lens that is still to come where a first round has none of it, or one. */
  | { readonly step: 'measure'; readonly from: MeasuredKind; readonly wanted: 'lenses' | 'left' | 'right' | 'none' }
  /** Inside tolerance without a look through the glasses the work is not closed. */
  | { readonly step: 'measured'; readonly after: 'turn' | 'close' | 'leave' }
  /** These photographs cannot be used. */
  | { readonly step: 'again'; readonly slots: readonly ShotSlot[] }
  /** The same photograph stands at two places, or two photographs cannot be measured together. */
  | { readonly step: 'twice' | 'conflict' };

type Work = Pick<Workspace, 'shots' | 'rounds' | 'past_round'>;

/** What lies in a place: photographs of this round, and those of an earlier one, which show what is no more. */
export function listPlace(
  { shots, rounds, past_round }: Work,
  slot: ShotSlot,
): { readonly present: readonly Shot[]; readonly past: readonly Shot[] } {
  const there = shots.filter((shot) => shot.slot === slot);
  const past = there.filter((shot) => isPast(shot, rounds, past_round));
  return { present: there.filter((shot) => !past.includes(shot)), past };
}

export function findNextStep(workspace: Workspace): NextStep {
  const { rounds, jobs } = workspace;
  if (jobs.some(({ kind, state }) => kind === 'measure' && (state === 'running' || state === 'waiting'))) {
    return { step: 'measuring' };
  }
  const shots = workspace.shots.filter((shot) => !isPast(shot, rounds, workspace.past_round));
  const chosen = photographsOfRound(shots, rounds);
  const judged = (chosen ?? shots).filter(({ slot }) => slot !== 'closing');
  const refused = judged.flatMap(({ slot, examination }) => (examination?.outcome === 'refused' ? [slot] : []));
  if (refused.length > 0) return { step: 'again', slots: refused };
  const [left, right] = ['left-lens', 'right-lens'].map((slot) => shots.some((shot) => shot.slot === slot));
  if (!chosen) {
    if (!left && !right) return { step: rounds.length > 0 ? 'round' : 'begin' };
    return { step: left ? 'right' : 'left' };
  }
  if (new Set(judged.map(({ sha256 }) => sha256)).size < judged.length) return { step: 'twice' };
  if (judged.some(({ examination }) => examination === null)) return { step: 'wait' };
  if (judged.some(isConflict)) return { step: 'conflict' };
  const last = rounds.at(-1);
  if (last && isSame(chosen, last)) return { step: 'measured', after: findAfter(last, rounds) };
  const from = !chosen.some(({ slot }) => isOfLens(slot))
    ? 'bare'
    : chosen.some(({ slot }) => slot === 'bare')
      ? 'all'
      : 'pair';
  if (from !== 'bare' || rounds.length > 0) return { step: 'measure', from, wanted: 'none' };
  return {
    step: 'measure',
    from,
    wanted: left ? 'right' : right ? 'left' : 'lenses',
  };
}

/** Said of photographs that can be measured, and not together. */
const CONFLICTS = ['same-photo-twice', 'different-size', 'same-eye-twice'];

const isConflict = ({ examination }: Shot) => examination?.outcome === 'usable' && CONFLICTS.includes(examination.code);

function isSame(chosen: readonly Shot[], round: Round): boolean {
  const { shots, repeats = [] } = round;
  const isNamed = ({ slot, sha256 }: Shot) =>
    shots[slot] === sha256 || repeats.some((other) => other.role === slot && other.sha256 === sha256);
  return chosen.length === photographsOf(round).length && chosen.every(isNamed);
}

function findAfter(last: Round, rounds: readonly Round[]): 'turn' | 'close' | 'leave' {
  if (isToClose(rounds)) return 'close';
  return last.verdict === 'within' && (last.turns_made?.length ?? 0) === 0 ? 'leave' : 'turn';
}

/** Places whose photographs were left out of what is measured now, because they are of an earlier round. */
export function listLeftOut({ shots: all, rounds, past_round }: Work): readonly ShotSlot[] {
  const shots = all.filter((shot) => !isPast(shot, rounds, past_round));
  const chosen = photographsOfRound(shots, rounds) ?? [];
  if (chosen.length === 0) return [];
  const old = shots.filter((shot) => shot.slot !== 'closing' && !chosen.includes(shot) && isMeasured(shot, rounds));
  return old.map(({ slot }) => slot);
}

type Concern = 'exchanged' | 'both-left' | 'both-right' | 'without-glasses' | 'bare-one-eye';

/**
 * What looks wrong about usable photographs that are measured together. It does not forbid to measure: eyes that are exchanged at the
 * projector look the same as photographs that are.
 */
export function findConcern({ shots, rounds, past_round }: Work): Concern | null {
  const present = shots.filter((shot) => !isPast(shot, rounds, past_round));
  const chosen = photographsOfRound(present, rounds) ?? [];
  if (chosen.some(isConflict)) return null;
  const [bare, left, right] = (['bare', 'left-lens', 'right-lens'] as const).map((slot) => {
    const examination = chosen.find((shot) => shot.slot === slot)?.examination;
    return examination?.outcome === 'usable' ? examination.shows : undefined;
  });
  if (bare === 'left' || bare === 'right') return 'bare-one-eye';
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
  const countOf = (eye: Eye) => new Set(marks.filter((mark) => mark.eye === eye).map(({ id }) => id)).size;
  return [
    translate(`shots.shows-${shows}`),
    shows === 'both'
      ? translate('shots.marks-both', { left: countOf('left'), right: countOf('right') })
      : translate('shots.marks', { count: countOf(shows), expected }),
    translate('shots.blur', { blur: blur_px }),
    translate('shots.brightest', { percent: Math.round(brightest * 100) }),
    clipped_pct < MIN_CLIPPED_PCT ? translate('shots.unclipped') : translate('shots.clipped', { percent: clipped_pct }),
    ...(leak_pct === null || shows === 'both' ? [] : [translate('shots.leak', { percent: leak_pct })]),
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
