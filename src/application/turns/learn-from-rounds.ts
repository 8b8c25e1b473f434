/**
 * What the adjustments do, learned from rounds: readings in their order, with what was turned between them.
 *
 * The same rounds always teach the same: a note that is corrected later is as good as one that was right at once. What
 * earlier works have shown of the same attachment comes first where it was kept (`LearnedRecord`).
 */
import type { Misalignment, Term } from '../../geometry/misalignment.ts';
import { TERMS } from '../../geometry/misalignment.ts';
import { elementAt } from '../../kernel/linear-algebra.ts';
import type { Measured } from '../../kernel/measured.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import type { House } from '../../record/house.ts';
import { LEARNED_SCHEMA, type LearnedRecord, type ReadingLearning } from '../../record/learned.ts';
import type { UnwordedMeasured } from '../../record/reading.ts';
import type { TermField } from '../../record/term-fields.ts';
import { advise } from '../../turns/advise.ts';
import { changeMisalignment, describeOptics, rateOfMotion } from '../../turns/effects.ts';
import { learnRound, type LearnedRound } from '../../turns/learn-round.ts';
import {
  describeLearnable,
  type LearnableAdjustment,
  type LearnedEffects,
  learnedEffectOf,
  resumeLearning,
  saveEffects,
  startLearning,
} from '../../turns/learned-effects.ts';
import { makeLever } from '../../turns/turns-problem.ts';
import { describeAdvice } from '../pair/compose-reading.ts';
import { fieldOf, repeatableTermsOf, termsOfReading, toFileUnit } from '../pair/terms-of-reading.ts';
import { findPictureMoved, type TurnedRound } from './find-picture-moved.ts';
import { type MadeTurn, moveAdjustmentsBack, sumTurns } from './move-adjustments.ts';

export interface LearningRequest {
  readonly house: House;
  /** Whether positions in the House are those after all these turns; otherwise those before. */
  readonly positionsFollow: boolean;
  readonly rounds: readonly TurnedRound[];
  readonly saved?: LearnedRecord | undefined;
}

export const LEARNING_REFUSALS = [
  'no-adjustments',
  'no-such-adjustment',
  'same-photographs',
  'eyes-exchanged',
  'another-house',
] as const;
export type LearningRefusal = (typeof LEARNING_REFUSALS)[number];

export interface LearnedFromRounds {
  readonly outcome: 'learned';
  readonly learned: LearnedEffects;
  readonly record: LearnedRecord;
  readonly described: ReadingLearning;
}

export function learnFromRounds(request: LearningRequest): LearnedFromRounds | Refusal<LearningRefusal> {
  const { house, rounds, saved } = request;
  const [first, ...further] = rounds;
  if (!house.attachment || house.attachment.adjustments.length === 0 || !first) return refuse('no-adjustments');
  const refused = judgeRounds(request);
  if (refused) return refused;

  // Where a part that acts in a curve stood when it was turned.
  let made = request.positionsFollow ? further.flatMap((round) => round.made) : [];
  const learnableNow = () => learnablesOf(moveAdjustmentsBack(house, made));
  const { aspect } = first.reading.house;
  const start = repeatableTermsOf(first.reading);
  let learned = saved
    ? resumeLearning(saved, learnableNow(), start, aspect)
    : startLearning(learnableNow(), start, aspect);
  let last: LearnedRound | undefined;
  for (const round of further) {
    const hand = sumTurns(round.made).map(({ adjustment, turns }) => ({
      adjustment,
      turns,
      overshoot: turns < 0 ? overshootOf(house, learned, adjustment) : 0,
    }));
    last = learnRound(learned, learnableNow(), hand, repeatableTermsOf(round.reading));
    ({ learned } = last);
    if (request.positionsFollow) made = made.slice(round.made.length);
  }
  const learnable = learnablesOf(house);
  const turned = further.at(-1)?.made.length ?? 0;
  return {
    outcome: 'learned',
    learned,
    record: { schema: LEARNED_SCHEMA, house: house.name, ...saveEffects(learned, learnable) },
    described: {
      outcome: turned === 0 ? 'nothing-turned' : (last?.outcome ?? 'nothing-turned'),
      rounds: learned.rounds,
      explanations: (last?.explanations ?? []).map(({ explanation, probability }) => ({
        code: explanation.kind,
        adjustment: 'adjustment' in explanation ? explanation.adjustment : null,
        noted: 'noted' in explanation ? explanation.noted : null,
        probability,
      })),
      other_picture: last ? findPictureMoved(house, rounds) : null,
      adjustments: learnable.map((each) => describeLearned(each, learned)),
    },
  };
}

export interface TaughtReading {
  readonly outcome: 'learned';
  readonly reading: UnwordedMeasured;
  readonly record: LearnedRecord;
}

/** Learns from the rounds before a reading and from the turns that led to it, and advises by what they have shown. */
export function learnAndAdvise({
  reading,
  made,
  rounds,
  ...request
}: LearningRequest & {
  readonly reading: UnwordedMeasured;
  /** Noted since the last of the rounds. */
  readonly made: readonly MadeTurn[];
}): TaughtReading | Refusal<LearningRefusal> {
  const result = learnFromRounds({ ...request, rounds: [...rounds, { reading, made }] });
  if (result.outcome === 'refused') return result;
  return { outcome: 'learned', reading: adviseWithLearned(reading, request.house, result), record: result.record };
}

/** The reading with advice that counts with what was learned. */
function adviseWithLearned(
  reading: UnwordedMeasured,
  house: House,
  { learned, described }: LearnedFromRounds,
): UnwordedMeasured {
  const { assignment } = reading.eyes;
  const advice = advise({
    misalignment: misalignmentOf(reading),
    house,
    aspect: reading.house.aspect,
    eyesExchanged: assignment === 'swapped',
    learned,
  });
  return { ...reading, ...describeAdvice(advice), learning: described };
}

function judgeRounds({ house, rounds, saved }: LearningRequest): Refusal<LearningRefusal> | undefined {
  if (saved && saved.house !== house.name) return refuse('another-house', { house: house.name, other: saved.house });
  const known = new Set(house.attachment?.adjustments.map(({ id }) => id));
  for (const [index, { reading, made }] of rounds.entries()) {
    if (reading.eyes.assignment === 'swapped') return refuse('eyes-exchanged');
    const before = rounds[index - 1]?.reading;
    if (!before) continue;
    if (reading.house.name !== before.house.name || reading.house.aspect !== before.house.aspect)
      return refuse('another-house', { house: reading.house.name ?? '', other: before.house.name ?? '' });
    if (before.shots.some(({ sha256 }) => reading.shots.some((shot) => shot.sha256 === sha256)))
      return refuse('same-photographs');
    const stranger = made.find(({ adjustment }) => !known.has(adjustment));
    if (stranger) return refuse('no-such-adjustment', { adjustment: stranger.adjustment });
  }
  return undefined;
}

function learnablesOf(house: House): LearnableAdjustment[] {
  const optics = describeOptics(house);
  return house.attachment!.adjustments.map((adjustment) => describeLearnable(adjustment, optics));
}

/** As was advised: who follows the advice goes past the goal by this. */
function overshootOf(house: House, learned: LearnedEffects, id: string): number {
  const adjustment = house.attachment!.adjustments.find((each) => each.id === id)!;
  return makeLever(adjustment, describeOptics(house), learned).overshoot;
}

function describeLearned(
  { adjustment, movement }: LearnableAdjustment,
  learned: LearnedEffects,
): ReadingLearning['adjustments'][number] {
  const { deviation, covariance, play, tried } = learnedEffectOf(learned, adjustment.id)!;
  const stated = movement && changeMisalignment(rateOfMotion(movement, 0));
  const perTurn = (of: (term: Term, k: number) => Measured) =>
    Object.fromEntries(
      TERMS.map((term, k) => {
        const { value, u } = of(term, k);
        return [fieldOf(term), { value: toFileUnit(term, value), u: toFileUnit(term, u) }];
      }),
    ) as ReadingLearning['adjustments'][number]['effect_per_turn'];
  return {
    adjustment: adjustment.id,
    label: adjustment.label,
    effect_per_turn: perTurn((term, k) => ({
      value: (stated?.[term] ?? 0) + deviation[term],
      u: Math.sqrt(elementAt(covariance, k, k)),
    })),
    stated_per_turn: stated
      ? (Object.fromEntries(TERMS.map((term) => [fieldOf(term), toFileUnit(term, stated[term])])) as Record<
          TermField,
          number
        >)
      : null,
    backlash_turns: play,
    tried_turns: tried,
  };
}

/** What a reading says of the misalignment; how its terms err together is not kept. */
function misalignmentOf(reading: UnwordedMeasured): Misalignment {
  const terms = termsOfReading(reading);
  const { value, u, at } = reading.misalignment.worst_vertical_pct;
  return {
    terms,
    covariance: TERMS.map((r) => TERMS.map((c) => (r === c ? terms[r].u ** 2 : 0))),
    worstVertical: { value: value / 100, u: u / 100, at: { x: at[0], y: at[1] } },
  };
}
