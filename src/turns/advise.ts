/**
 * The advice: which adjustment to turn, which way and how far, what will be left, and what no adjustment can cure.
 *
 *   misalignment -> what is worth a turn -> least squares in the travel -> whole small turns -> order -> what is left
 *
 * A turn is advised only while something is not within its working limit; then every term beyond half its limit is
 * corrected with it, so that the next reading does not stand just inside the limit. What its own uncertainty could explain
 * is left alone.
 */
import { type Misalignment, TERMS, type Term, type TermVector } from '../geometry/misalignment.ts';
import { judgeValue } from '../limits/judge.ts';
import { isInside, limitTerms, type TermLimits, VERTICAL_TERMS } from '../limits/tolerances.ts';
import type { House } from '../record/house.ts';
import type { HouseAdjustment, UnknownAdjustment } from '../record/house-adjustments.ts';
import {
  type Advice,
  type ImageMotion,
  type IncurableTerm,
  MECHANICAL_REASONS,
  type TrialTurn,
  type Turn,
} from './advice.ts';
import { type Attachment, describeTravel } from './attachment.ts';
import { changeMisalignment, describeOptics, movePictures, rateOfMotion, termVector } from './effects.ts';
import { type LearnedEffects, TERM_OF_UNKNOWN, UNKNOWN_STRENGTH } from './learned-effects.ts';
import { type Predicted, predictAfter, uncertaintyOfTurns } from './predict.ts';
import { roundTurns, solveTurns } from './solve-turns.ts';
import {
  covarianceAsStated,
  covarianceOfLearned,
  doubtAsStated,
  doubtOfEffects,
  type Lever,
  makeLever,
  strengthOf,
  type TurnsProblem,
} from './turns-problem.ts';

export interface AdviceRequest {
  readonly misalignment: Misalignment;
  readonly house: House | undefined;
  /** Width over height of the measured picture. */
  readonly aspect: number;
  readonly eyesExchanged: boolean;
  /** What rounds have shown of the adjustments; it counts in place of what is stated. */
  readonly learned?: LearnedEffects | undefined;
}

/**
 * Which adjustment to turn, which way and how far, and what is left afterwards.
 *
 * @example
 * const { outcome, turns } = advise({ misalignment, house, aspect: 2.35, eyesExchanged: false });
 * // outcome 'turn': turns[0].direction, turns[0].turns; lengths in ih, angles in radians
 */
export function advise({ misalignment, house, aspect, eyesExchanged, learned }: AdviceRequest): Advice {
  const limits = limitTerms(house, aspect);
  const attachment = house?.attachment;
  const keepInPlace = attachment?.keep_in_place ?? 'pair-centre';
  const worth = termsWorthATurn(misalignment, limits);
  const asItIs: Advice = {
    outcome: 'leave-alone',
    turns: [],
    trialTurns: [],
    imageMotion: neededMotion(misalignment, keepInPlace),
    predicted: predictAfter(misalignment, [], new Float64Array(), aspect),
    incurable: [],
  };
  if (eyesExchanged) return { ...asItIs, outcome: 'eyes-first' };
  if (worth.length === 0) {
    // No term is to blame, yet the worst place is outside: a local bend, which no screw straightens.
    const bent = judgeValue(misalignment.worstVertical, limits.worstVertical) === 'outside';
    return bent ? { ...asItIs, outcome: 'beyond-adjustment' } : asItIs;
  }
  if (!house || !attachment || attachment.adjustments.length === 0) return { ...asItIs, outcome: 'motion-only' };

  const optics = describeOptics(house);
  const between = learned ? covarianceOfLearned(learned) : covarianceAsStated;
  const all = attachment.adjustments.map((adjustment) => makeLever(adjustment, optics, learned));
  const levers = all.filter(({ adjustment, effectU }) => !isUntried(adjustment, effectU));
  const problem: TurnsProblem = {
    levers,
    doubt: doubtOfEffects(levers, limits.terms, learned ? between : doubtAsStated),
    wanted: termVector(Object.fromEntries(worth.map((term) => [term, misalignment.terms[term].value]))),
    limits: limits.terms,
    keepInPlace,
  };
  const continuous = solveTurns(problem);
  const rounded = continuous ? roundTurns(problem, continuous) : new Float64Array();
  const isWorth = isWorthARound(misalignment, predictAfter(misalignment, levers, rounded, aspect, between), limits);
  const x = isWorth ? rounded : new Float64Array(rounded.length);
  const u = continuous
    ? uncertaintyOfTurns(problem, continuous, misalignment.covariance, worth, between)
    : new Float64Array();

  const turns = orderTurns(levers, x, limits.terms).map((j, index) => describeTurn(levers[j], x[j], u[j], index + 1));
  const predicted = predictAfter(misalignment, levers, x, aspect, between);
  const stillOut = termsWorthATurn({ ...misalignment, ...predicted }, limits).filter((term) => worth.includes(term));
  const untried = all.flatMap(({ adjustment, effectU }) => (isUntried(adjustment, effectU) ? [adjustment] : []));
  const trialTurns = untried.flatMap((adjustment, index) => {
    const shared = untried.filter(({ affects }) => affects === adjustment.affects).length;
    return proposeTrial(adjustment, stillOut, predicted, isTurnedBack(learned?.rounds ?? 0, index), shared);
  });
  const tried = new Set(trialTurns.map(({ term }) => term));
  const incurable = stillOut
    .filter((term) => !tried.has(term))
    .map((term) => explainRemainder(term, predicted, levers, x, limits));
  const outcome = turns.length > 0 ? 'turn' : trialTurns.length > 0 ? 'trial' : 'beyond-adjustment';
  return { ...asItIs, outcome, turns, trialTurns, predicted, incurable };
}

/** A round that takes less than this part of a limit off what is outside is not worth its photograph. */
const MIN_GAIN = 0.1;

/** Whether the turns bring something within, or nearer to it by what can be noticed. */
function isWorthARound(before: Misalignment, after: Predicted, limits: TermLimits): boolean {
  const pairs: readonly (readonly [number, number, number])[] = [
    ...TERMS.map((term): [number, number, number] => {
      const [was, is] = [before.terms[term].value, after.terms[term].value];
      const crossed = term === 'horizontalOffset' && was < 0;
      return [was, is, crossed ? limits.crossedHorizontal : limits.terms[term]];
    }),
    [before.worstVertical.value, after.worstVertical.value, limits.worstVertical],
  ];
  return pairs.some(([was, is, limit]) => {
    const [far, near] = [Math.abs(was) / limit, Math.abs(is) / limit];
    return far - near >= MIN_GAIN || (far > 1 && near <= 1);
  });
}

/** Right minus left must change by -t: the right picture by its share of that, the left one by its share of +t. */
function neededMotion({ terms }: Misalignment, keep: Attachment['keep_in_place']): ImageMotion[] {
  const share = { 'pair-centre': 0.5, 'left-picture': 1, 'right-picture': 0 }[keep];
  // Adding 0 turns the -0 of a picture that stays into 0.
  const motion = (factor: number) =>
    termVector(Object.fromEntries(TERMS.map((term) => [term, factor * terms[term].value + 0])));
  return [
    { eye: 'left', motion: motion(1 - share) },
    { eye: 'right', motion: motion(-share) },
  ];
}

/** Indices of the levers that are turned, in the order of work: what takes away most, in units of the limits, first. */
function orderTurns(levers: readonly Lever[], x: Float64Array, limits: TermVector): number[] {
  const weight = levers.map((lever, j) => {
    const change = changeMisalignment(movePictures(lever.movement, x[j]));
    return Math.hypot(...TERMS.map((term) => change[term] / limits[term]));
  });
  return levers
    .map((_, j) => j)
    .filter((j) => x[j] !== 0)
    .sort((a, b) => weight[b] - weight[a] || a - b);
}

function describeTurn({ adjustment, travel, overshoot }: Lever, signed: number, u: number, order: number): Turn {
  const direction = signed > 0 ? 'clockwise' : 'counter-clockwise';
  const turns = Math.abs(signed);
  const attachmentTurn_deg =
    adjustment.kind === 'attachment-rotation'
      ? 360 * signed
      : adjustment.kind === 'attachment-screw'
        ? adjustment.clockwise_turns_deg * signed
        : null;
  return {
    adjustment: adjustment.id,
    label: adjustment.label,
    moves: 'moves' in adjustment ? adjustment.moves : 'apart',
    direction,
    turns,
    u,
    degrees: travel.byHand ? { value: 360 * turns, u: 360 * u } : null,
    order,
    approach:
      travel.backlash > 0 ? { finish: 'clockwise', overshoot_turns: direction === 'clockwise' ? 0 : overshoot } : null,
    positionAssumed: travel.positionAssumed,
    effectAssumed: adjustment.kind !== 'unknown' && adjustment.effect_u_pct === undefined,
    polarizersTurn_deg: attachmentTurn_deg,
  };
}

/** An unknown effect that rounds have shown to better than this part of itself is used like any other. */
export const MAX_UNKNOWN_U = 0.5;

function isUntried(adjustment: HouseAdjustment, effectU: number): adjustment is UnknownAdjustment {
  return adjustment.kind === 'unknown' && effectU > MAX_UNKNOWN_U;
}

/**
 * Signs of several trial turns that are made at once, round by round: rows of a Hadamard matrix in Sylvester's order, so
 * that after as many rounds as there are adjustments each effect stands apart from the others (Hotelling 1944).
 */
function isTurnedBack(round: number, index: number): boolean {
  let odd = false;
  for (let common = round & index; common > 0; common >>= 1) odd = odd !== ((common & 1) === 1);
  return odd;
}

/** The longest trial, in turns, where the smallest useful turn is no longer: seen, and still harmless. */
const MAX_TRIAL = 1 / 8;

/**
 * A trial long enough to be seen and short enough not to spoil the picture: as a screw of ordinary strength would need for
 * half of what is to go, shared among those that are tried for the same term; whole smallest turns, never half the travel.
 */
function proposeTrial(
  adjustment: UnknownAdjustment,
  stillOut: readonly Term[],
  predicted: Predicted,
  turnedBack: boolean,
  shared: number,
): TrialTurn[] {
  const term = TERM_OF_UNKNOWN[adjustment.affects];
  if (!stillOut.includes(term)) return [];
  const smallest = adjustment.smallest_useful_turn;
  const { min, max } = describeTravel(adjustment);
  const room = Math.max(max, -min);
  const { value, u } = predicted.terms[term];
  const half = Math.abs(value) / 2 / UNKNOWN_STRENGTH / shared;
  const steps = Math.max(1, Math.round(Math.min(half, Math.max(MAX_TRIAL, 2 * smallest)) / smallest));
  const turns = Math.min(steps * smallest, room / 2);
  const clockwise = max >= turns && min <= -turns ? !turnedBack : max >= -min;
  return [
    {
      adjustment: adjustment.id,
      label: adjustment.label,
      moves: adjustment.moves,
      term,
      direction: clockwise ? 'clockwise' : 'counter-clockwise',
      turns,
      needed: { value: adjustment.moves === 'left' ? value : -value, u },
    },
  ];
}

/** An effect below this part of a limit per whole travel does not count as acting on a term. */
const ACTS_FROM = 0.25;

function explainRemainder(
  term: Term,
  predicted: Predicted,
  levers: readonly Lever[],
  x: Float64Array,
  limits: TermLimits,
): IncurableTerm {
  const only = ({ movement }: Lever) =>
    Math.abs(changeMisalignment(rateOfMotion(movement, 0))[term]) / limits.terms[term];
  const acting = levers
    .map((lever, j) => ({ lever, x: x[j] }))
    .filter(({ lever }) => only(lever) * (lever.travel.max - lever.travel.min) > ACTS_FROM)
    .filter(({ lever }) => only(lever) > ACTS_FROM * strengthOf(lever, limits.terms));
  const atEnd = acting.some(
    ({ lever: { travel }, x: turned }) =>
      turned + travel.smallest > travel.max + 1e-12 || turned - travel.smallest < travel.min - 1e-12,
  );
  return {
    term,
    left: predicted.terms[term],
    obstacle: acting.length === 0 ? 'no-adjustment' : atEnd ? 'range-exhausted' : 'side-effects',
    reasons: MECHANICAL_REASONS[term],
  };
}

/**
 * Which terms are worth a turn.
 *
 * Nothing is turned while everything is within its working limit. When something is not, the terms beyond half their
 * limit are corrected too; where the worst place in the picture is not within, so are the smaller ones that make
 * vertical disparity there. A value below twice its uncertainty could be nothing and is left alone.
 */

const DEAD_BAND = 0.5;
/** With several small terms adding up, those below a tenth of the limit are still not worth a screw. */
const CONTRIBUTION = 0.1;

export function termsWorthATurn(
  { terms, worstVertical }: Pick<Misalignment, 'terms' | 'worstVertical'>,
  limits: TermLimits,
): Term[] {
  const worstIsWithin = judgeValue(worstVertical, limits.worstVertical) === 'within';
  const allWithin = TERMS.every((term) => {
    const below = term === 'horizontalOffset' ? limits.crossedHorizontal : limits.terms[term];
    return judgeValue(terms[term], limits.terms[term], below) === 'within';
  });
  if (allWithin && worstIsWithin) return [];
  return TERMS.filter((term) => {
    const { value, u } = terms[term];
    if (Math.abs(value) <= 2 * u) return false;
    const contributes = !worstIsWithin && VERTICAL_TERMS.includes(term);
    return !isInside(limits, term, value, contributes ? CONTRIBUTION : DEAD_BAND);
  });
}
