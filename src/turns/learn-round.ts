/**
 * One round of learning: the turns that were noted, the reading after them, and what explains it best.
 *
 * The state and its equations stand in learned-effects.ts. Under every hypothesis so far every explanation predicts the
 * reading; what predicts it well is kept, with its probability (Bayes).
 *
 * Sources: Kalman 1960, the covariance in Joseph's form; Jaegersand and Nelson 1996 for learning from the moves of the work
 * itself. Odds of the explanations are assumptions of ours about hands and House files.
 */
import { TERMS } from '../geometry/misalignment.ts';
import {
  add,
  choleskyFactor,
  choleskySolve,
  createMatrix,
  identityMatrix,
  invertSymmetric,
  multiply,
  multiplyVector,
  propagateCovariance,
  transpose,
} from '../kernel/linear-algebra.ts';
import { normalCdf } from '../kernel/statistics.ts';
import { describeTravel } from './attachment.ts';
import { changeMisalignment, type Movement, movePictures, rateOfMotion } from './effects.ts';
import {
  type EffectState,
  type HandTurn,
  type Hypothesis,
  type LearnableAdjustment,
  type LearnedEffects,
  PER_ADJUSTMENT,
  type ReadTerms,
  TERM_COUNT,
  vectorOf,
} from './learned-effects.ts';

/** How a round is explained. */
export type Explanation =
  | { readonly kind: 'as-noted' }
  /** The effects are off by more than the House says of them. */
  | { readonly kind: 'effects-off' }
  | { readonly kind: 'moves-the-other-way'; readonly adjustment: string }
  | { readonly kind: 'not-turned'; readonly adjustment: string }
  | { readonly kind: 'turned-twice'; readonly adjustment: string }
  | { readonly kind: 'another-turned'; readonly adjustment: string; readonly noted: string };

export interface LearnedRound {
  readonly outcome: 'learned' | 'nothing-fits';
  readonly learned: LearnedEffects;
  /** Those that are not unlikely, the likeliest first; empty where nothing fits. */
  readonly explanations: readonly WeighedExplanation[];
}

export interface WeighedExplanation {
  readonly explanation: Explanation;
  readonly probability: number;
}

/** Prior odds of each explanation against the plain one: assumptions of ours about hands and House files. */
const PRIOR_ODDS = {
  'as-noted': 1,
  'effects-off': 0.2,
  'moves-the-other-way': 0.02,
  'not-turned': 0.01,
  'turned-twice': 0.003,
  'another-turned': 0.002,
} as const;
/** How much wider the prior of the effects is taken where the House is too sure of them. */
const INFLATIONS = [2, 4];
/** Squared distance of eight terms beyond which no explanation counts: chance alone passes it once in 10^5. */
const MAX_DISTANCE = 38;
/** What is remembered from round to round: so many hypotheses, none less likely than this. */
const MAX_HYPOTHESES = 8;
const MIN_WEIGHT = 1e-3;

/**
 * Learns from one round: the turns that were noted, and the reading after them. Under every hypothesis so far every
 * explanation (as noted; effects worse known than stated; one adjustment acting the other way, not turned, turned twice, or
 * another one turned in its place) predicts the reading; what predicts it well is kept, with its probability (Bayes). Two
 * screws that do the same cannot be told apart by one round; a later one does. Where nothing fits, only the reading is
 * taken over and the effects stay.
 *
 * @example
 * const turned = [{ adjustment: 'upper-screw', turns: 0.25, overshoot: 0 }];
 * const { learned, explanations } = learnRound(before, adjustments, turned, terms);
 */
export function learnRound(
  before: LearnedEffects,
  adjustments: readonly LearnableAdjustment[],
  noted: readonly HandTurn[],
  reading: ReadTerms,
): LearnedRound {
  const ids = before.adjustments;
  const candidates = before.hypotheses.flatMap((hypothesis) =>
    explanationsOf(ids, hypothesis, adjustments, noted).map(({ explanation, start, turns, odds }) => {
      const first = observeTerms(predictRound(ids, start, adjustments, turns, start.state), reading);
      // What hand and play take away depends on the effect, which is known better now than before the reading.
      const predicted = predictRound(ids, start, adjustments, turns, first.after.state);
      const { after, logLikelihood, distance } = observeTerms(predicted, reading);
      return { explanation, after, distance, score: Math.log(hypothesis.weight * odds) + logLikelihood };
    }),
  );
  const best = candidates.reduce((a, b) => (b.score > a.score ? b : a));
  const fitting = candidates
    .filter(({ distance }) => distance <= MAX_DISTANCE)
    .map((candidate) => ({ ...candidate, weight: Math.exp(candidate.score - best.score) }));
  if (fitting.length === 0 || best.distance > MAX_DISTANCE) {
    const learned = takeOverReading(before, reading);
    return { outcome: 'nothing-fits', learned, explanations: [] };
  }
  const kept = fitting
    .toSorted((a, b) => b.weight - a.weight)
    .slice(0, MAX_HYPOTHESES)
    .filter(({ weight }) => weight >= MIN_WEIGHT);
  const rest = kept.reduce((sum, { weight }) => sum + weight, 0);
  const [first, ...others] = kept.map(({ after, weight }): Hypothesis => ({ ...after, weight: weight / rest }));
  const tried = before.tried.map((longest, j) =>
    Math.max(longest, ...noted.filter(({ adjustment }) => adjustment === ids[j]).map(({ turns }) => Math.abs(turns))),
  );
  const rounds = before.rounds + (noted.length > 0 ? 1 : 0);
  return {
    outcome: 'learned',
    learned: { ...before, hypotheses: [first!, ...others], tried, rounds },
    explanations: summariseExplanations(fitting),
  };
}

/** An explanation less likely than this is not worth a word. */
const MIN_PROBABILITY = 0.05;

function summariseExplanations(
  fitting: readonly { readonly explanation: Explanation; readonly weight: number }[],
): WeighedExplanation[] {
  const total = fitting.reduce((sum, { weight }) => sum + weight, 0);
  const byKind = new Map<string, { explanation: Explanation; probability: number }>();
  for (const { explanation, weight } of fitting) {
    const key = 'adjustment' in explanation ? `${explanation.kind} ${explanation.adjustment}` : explanation.kind;
    const known = byKind.get(key);
    byKind.set(key, { explanation, probability: (known?.probability ?? 0) + weight / total });
  }
  return [...byKind.values()]
    .filter(({ probability }) => probability >= MIN_PROBABILITY)
    .toSorted((a, b) => b.probability - a.probability);
}

interface Candidate {
  readonly explanation: Explanation;
  readonly start: EffectState;
  readonly turns: readonly HandTurn[];
  readonly odds: number;
}

function explanationsOf(
  ids: readonly string[],
  before: EffectState,
  adjustments: readonly LearnableAdjustment[],
  noted: readonly HandTurn[],
): Candidate[] {
  const turned = noted.filter(({ turns }) => turns !== 0);
  const candidate = (
    explanation: Explanation,
    { start = before, turns = noted, share = 1 }: Partial<Candidate> & { readonly share?: number },
  ): Candidate => ({ explanation, start, turns, odds: share * PRIOR_ODDS[explanation.kind] });
  const asNoted = candidate({ kind: 'as-noted' }, {});
  if (turned.length === 0) return [asNoted];

  const turnedIds = turned.map(({ adjustment }) => adjustment);
  const share = 1 / INFLATIONS.length;
  const known = new Map(adjustments.map((each) => [each.adjustment.id, each]));
  return [
    asNoted,
    ...INFLATIONS.map((factor) =>
      candidate({ kind: 'effects-off' }, { start: widenEffects(ids, before, turnedIds, factor), share }),
    ),
    ...turned.flatMap((turn): Candidate[] => {
      const { adjustment } = turn;
      const instead = (turns: readonly HandTurn[]) => noted.flatMap((each) => (each === turn ? turns : [each]));
      const movement = known.get(adjustment)?.movement;
      // Of an effect that nobody knows every turn would be an explanation.
      if (!movement) return [];
      const reversed = reverseEffect(ids, before, adjustment, movement);
      const unturned = ids.filter((id) => !turnedIds.includes(id));
      return [
        ...INFLATIONS.map((factor) =>
          candidate(
            { kind: 'moves-the-other-way', adjustment },
            { start: widenEffects(ids, reversed, [adjustment], factor), share },
          ),
        ),
        candidate({ kind: 'not-turned', adjustment }, { turns: instead([]) }),
        candidate(
          { kind: 'turned-twice', adjustment },
          { turns: instead([{ ...turn, turns: 2 * turn.turns, overshoot: turn.overshoot }]) },
        ),
        ...unturned.map((id) =>
          candidate(
            { kind: 'another-turned', adjustment: id, noted: adjustment },
            { turns: instead([{ ...turn, adjustment: id }]), share: 1 / unturned.length },
          ),
        ),
      ];
    }),
  ];
}

function widenEffects(
  all: readonly string[],
  { state, covariance }: EffectState,
  ids: readonly string[],
  factor: number,
): EffectState {
  const size = state.length;
  const by = new Float64Array(size).fill(1);
  for (const id of ids) {
    const at = TERM_COUNT + PER_ADJUSTMENT * all.indexOf(id);
    by.fill(factor, at, at + TERM_COUNT);
  }
  const data = covariance.data.map((v, i) => v * by[Math.floor(i / size)] * by[i % size]);
  return { state, covariance: { ...covariance, data } };
}

function reverseEffect(
  all: readonly string[],
  { state: before, covariance }: EffectState,
  id: string,
  movement: Movement,
): EffectState {
  const at = TERM_COUNT + PER_ADJUSTMENT * all.indexOf(id);
  const rate = vectorOf(changeMisalignment(rateOfMotion(movement, 0)));
  const state = Float64Array.from(before);
  for (let k = 0; k < TERM_COUNT; k++) state[at + k] = -2 * rate[k] - state[at + k];
  return { state, covariance };
}

/** From round to round an effect may change by this part of itself: what is long ago counts less. */
const FORGET = 0.01;

/** The state after the turns, before anything is read; of effects that nobody knows linear about `about`. */
function predictRound(
  ids: readonly string[],
  before: EffectState,
  adjustments: readonly LearnableAdjustment[],
  turned: readonly HandTurn[],
  about: Float64Array,
): EffectState {
  const size = before.state.length;
  const state = Float64Array.from(before.state);
  const jacobian = identityMatrix(size);
  const noise = createMatrix(size, size);
  const set = (r: number, c: number, value: number) => {
    jacobian.data[r * size + c] = value;
  };
  for (const { adjustment: id, turns, overshoot } of turned) {
    const j = ids.indexOf(id);
    const learnable = adjustments.find((each) => each.adjustment.id === id);
    if (j < 0 || !learnable || turns === 0) continue;
    const at = TERM_COUNT + PER_ADJUSTMENT * j;
    const [slackAt, playAt] = [at + TERM_COUNT, at + TERM_COUNT + 1];
    const [slack, play] = [before.state[slackAt], before.state[playAt]];
    const short =
      turns > 0
        ? { value: 0, u: 0, slope: 0 }
        : positivePart(play - overshoot, Math.sqrt(before.covariance.data[playAt * size + playAt]));
    const left = short.value;
    const moved = turns > 0 ? Math.max(0, turns - slack) : turns - slack + left;
    const deviation = before.state.subarray(at, at + TERM_COUNT);
    const { movement } = learnable;
    // Of what is said something the saying is near enough.
    const likely = movement ? deviation : about.subarray(at, at + TERM_COUNT);
    const change = movement && vectorOf(changeMisalignment(movePictures(movement, moved)));
    const rate = movement && vectorOf(changeMisalignment(rateOfMotion(movement, moved)));
    const { smallest } = describeTravel(learnable.adjustment);
    const follows = moved !== 0;
    for (let k = 0; k < TERM_COUNT; k++) {
      const perTurn = (rate?.[k] ?? 0) + likely[k];
      state[k] += (change?.[k] ?? 0) + deviation[k] * moved;
      set(k, at + k, moved);
      set(k, slackAt, follows ? -perTurn : 0);
      set(k, playAt, perTurn * short.slope);
      for (let l = 0; l < TERM_COUNT; l++) {
        const other = (rate?.[l] ?? 0) + likely[l];
        noise.data[k * size + l] += perTurn * other * (smallest ** 2 / 12 + short.u ** 2);
      }
      noise.data[(at + k) * size + at + k] += (FORGET * perTurn) ** 2;
    }
    state[slackAt] = turns > 0 ? Math.max(0, slack - turns) : left;
    set(slackAt, slackAt, turns > 0 && slack > turns ? 1 : 0);
    set(slackAt, playAt, short.slope);
    noise.data[slackAt * size + slackAt] += short.u ** 2 + (smallest / 10) ** 2;
    for (let k = 0; k < TERM_COUNT; k++) {
      const shared = ((rate?.[k] ?? 0) + likely[k]) * short.u ** 2;
      noise.data[k * size + slackAt] += shared;
      noise.data[slackAt * size + k] += shared;
    }
  }
  return { state, covariance: add(propagateCovariance(jacobian, before.covariance), noise) };
}

/** Mean of max(0, v) for a normal v, its slope by the mean of v, and the standard deviation that the slope leaves over. */
function positivePart(mean: number, u: number): { readonly value: number; readonly u: number; readonly slope: number } {
  const z = mean / u;
  const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
  const slope = normalCdf(z);
  const value = mean * slope + u * density;
  const variance = (mean * mean + u * u) * slope + mean * u * density - value * value;
  return { value, slope, u: Math.sqrt(Math.max(0, variance - (slope * u) ** 2)) };
}

interface Observed {
  readonly after: EffectState;
  readonly logLikelihood: number;
  /** Squared Mahalanobis distance of the reading from what was predicted. */
  readonly distance: number;
}

function observeTerms({ state, covariance }: EffectState, reading: ReadTerms): Observed {
  const size = state.length;
  const innovation = Float64Array.from(TERMS, (term, k) => reading[term].value - state[k]);
  const spread = createMatrix(TERM_COUNT, TERM_COUNT);
  const byTerms = createMatrix(TERM_COUNT, size);
  for (let r = 0; r < TERM_COUNT; r++) {
    byTerms.data.set(covariance.data.subarray(r * size, (r + 1) * size), r * size);
    for (let c = 0; c < TERM_COUNT; c++) spread.data[r * TERM_COUNT + c] = covariance.data[r * size + c];
    spread.data[r * TERM_COUNT + r] += reading[TERMS[r]].u ** 2;
  }
  const factor = choleskyFactor(spread);
  const inverse = invertSymmetric(spread);
  const solved = choleskySolve(spread, innovation);
  if (!factor || !inverse || !solved) throw new RangeError('a reading whose terms have no uncertainty');
  const distance = innovation.reduce((sum, v, k) => sum + v * solved[k], 0);
  let logDeterminant = 0;
  for (let k = 0; k < TERM_COUNT; k++) logDeterminant += 2 * Math.log(factor.data[k * TERM_COUNT + k]);

  const gain = multiply(transpose(byTerms), inverse);
  const correction = multiplyVector(gain, innovation);
  // Joseph's form, (I - K H) P (I - K H)^T + K R K^T: stays positive where readings are a thousand times better than turns.
  const left = identityMatrix(size);
  for (let r = 0; r < size; r++)
    for (let c = 0; c < TERM_COUNT; c++) left.data[r * size + c] -= gain.data[r * TERM_COUNT + c];
  const ofReading = createMatrix(TERM_COUNT, TERM_COUNT);
  TERMS.forEach((term, k) => {
    ofReading.data[k * TERM_COUNT + k] = reading[term].u ** 2;
  });
  const after = add(propagateCovariance(left, covariance), propagateCovariance(gain, ofReading));
  const corrected = state.map((v, i) => v + correction[i]);
  // Slack and play are never negative.
  for (let at = 2 * TERM_COUNT; at < size; at += PER_ADJUSTMENT) {
    corrected[at] = Math.max(0, corrected[at]);
    corrected[at + 1] = Math.max(0, corrected[at + 1]);
  }
  return {
    after: { state: corrected, covariance: after },
    distance,
    logLikelihood: -(distance + logDeterminant) / 2,
  };
}

/** The terms as they were read, the effects as they were: after a round that tells nothing of them. */
function takeOverReading(learned: LearnedEffects, reading: ReadTerms): LearnedEffects {
  const [first, ...others] = learned.hypotheses.map((hypothesis): Hypothesis => {
    const size = hypothesis.state.length;
    const state = Float64Array.from(hypothesis.state);
    const data = Float64Array.from(hypothesis.covariance.data);
    TERMS.forEach((term, k) => {
      state[k] = reading[term].value;
      for (let i = 0; i < size; i++) {
        data[k * size + i] = 0;
        data[i * size + k] = 0;
      }
      data[k * size + k] = reading[term].u ** 2;
    });
    return { weight: hypothesis.weight, state, covariance: { rows: size, cols: size, data } };
  });
  return { ...learned, hypotheses: [first!, ...others] };
}
