/** What the booth view shows now: one thing, the most urgent one. */
import type { Round, TurnMade, Workspace } from '../../../../contract/workspace.ts';
import { isPredictedInside, judgeOverall } from '../../../../record/judge-reading.ts';
import type { Reading } from '../../../../record/reading.ts';
import type { OverallVerdict } from '../../../../record/values.ts';
import { listMoves } from '../../../../wording/turns.ts';
import { listSteps, nextStep, noteSteps, type Step } from '../turns/turn-steps.ts';

export type BoothContent =
  | { readonly kind: 'measuring'; readonly fraction: number }
  | { readonly kind: 'nothing-yet' }
  | { readonly kind: 'coming' }
  | { readonly kind: 'refused'; readonly message: string; readonly remedy: string }
  | {
      readonly kind: 'step';
      readonly step: Step;
      readonly number: number;
      readonly count: number;
      /** What comes after this step, and the step that does. */
      readonly after: 'next' | 'inside' | 'photograph';
      readonly following: Step | undefined;
    }
  | { readonly kind: 'turned' }
  | { readonly kind: 'sentence'; readonly sentence: string; readonly verdict: OverallVerdict };

/** `reading` is that of the last round; undefined while it is on its way. */
export function chooseContent({ jobs, rounds }: Workspace, reading: Reading | undefined): BoothContent {
  const measuring = jobs.filter(({ kind }) => kind === 'measure').at(-1);
  if (measuring?.state === 'running' || measuring?.state === 'waiting') {
    return { kind: 'measuring', fraction: measuring.fraction };
  }
  if (measuring?.state === 'failed' && measuring.failure) {
    const { message, remedy } = measuring.failure;
    return { kind: 'refused', message, remedy };
  }
  const round = rounds.at(-1);
  if (!round) return { kind: 'nothing-yet' };
  if (!reading) return { kind: 'coming' };
  if (reading.outcome === 'refused') {
    const { message, remedy } = reading.refusal;
    return { kind: 'refused', message, remedy };
  }
  const steps = listSteps(reading, round);
  const step = nextStep(steps);
  if (step) {
    const following = steps.find((other) => other !== step && other.made === null);
    const end = !step.isTrial && isPredictedInside(reading) ? 'inside' : 'photograph';
    return {
      kind: 'step',
      step,
      number: steps.indexOf(step) + 1,
      count: steps.length,
      after: following ? 'next' : end,
      following,
    };
  }
  if (steps.length > 0) return { kind: 'turned' };
  return { kind: 'sentence', sentence: reading.sentence, verdict: judgeOverall(reading) };
}

/** What is heard when a round comes in: told apart by the way the notes go, not by their pitch alone. */

interface Note {
  readonly hz: number;
  readonly from_s: number;
  readonly for_s: number;
}

export type Outcome = 'within' | 'not-within' | 'refused' | 'taken';

/** Up for within, level for not yet, down for refused; one note for a photograph that came in by itself. */
const MELODIES: Readonly<Record<Outcome, readonly number[]>> = {
  within: [523.25, 659.25, 783.99],
  'not-within': [440, 440],
  refused: [329.63, 220],
  taken: [587.33],
};

const NOTE_S = 0.16;
const PAUSE_S = 0.05;

export function composeMelody(outcome: Outcome): Note[] {
  return MELODIES[outcome].map((hz, i) => ({ hz, from_s: i * (NOTE_S + PAUSE_S), for_s: NOTE_S }));
}

export function outcomeOf({ outcome, verdict }: Pick<Round, 'outcome' | 'verdict'>): Outcome {
  if (outcome === 'refused') return 'refused';
  return verdict === 'within' || verdict === 'geometry-within' ? 'within' : 'not-within';
}

/** What a key, a pedal or a presenter asks for. */
export type BoothCommand = 'next' | 'back' | 'leave';

/** Pedals and presenters send the keys that turn pages. */
const COMMANDS: Readonly<Record<string, BoothCommand>> = {
  ' ': 'next',
  Enter: 'next',
  PageDown: 'next',
  ArrowRight: 'next',
  ArrowDown: 'next',
  PageUp: 'back',
  ArrowLeft: 'back',
  ArrowUp: 'back',
  Backspace: 'back',
  Escape: 'leave',
};

/** Null for every other key, and for one that is held down: that is no new answer. */
export function commandOfKey({ key, repeat }: Pick<KeyboardEvent, 'key' | 'repeat'>): BoothCommand | null {
  return repeat ? null : (COMMANDS[key] ?? null);
}

/** A pedal that bounces and a knuckle that strikes twice mean one answer. */
const BOUNCE_MS = 400;

/** Lets one answer through in that time. */
export function makeBounceGuard(): (at_ms: number) => boolean {
  let last = Number.NEGATIVE_INFINITY;
  return (at_ms) => {
    if (at_ms - last < BOUNCE_MS) return false;
    last = at_ms;
    return true;
  };
}

/** Where one is in a step of several moves. */
export interface BoothPlace {
  readonly adjustment: string;
  readonly move: number;
}

/** What an answer comes to: another move of the same step, or a step that is done or taken back. */
export type BoothAnswer =
  | { readonly kind: 'place'; readonly place: BoothPlace }
  | { readonly kind: 'note'; readonly turns_made: readonly TurnMade[]; readonly place: BoothPlace | null }
  | null;

export function answerBooth(
  command: 'next' | 'back',
  content: BoothContent,
  place: BoothPlace | null,
  noted: readonly TurnMade[] | null,
): BoothAnswer {
  const step = content.kind === 'step' ? content.step : undefined;
  const move = step ? moveOf(step, place) : 0;
  if (command === 'next') {
    if (!step) return null;
    const { adjustment } = step.turn;
    if (move + 1 < listMoves(step.turn).length) return { kind: 'place', place: { adjustment, move: move + 1 } };
    return { kind: 'note', turns_made: noteSteps(noted, [step]), place: null };
  }
  if (step && move > 0) return { kind: 'place', place: { adjustment: step.turn.adjustment, move: move - 1 } };
  if ((content.kind !== 'step' && content.kind !== 'turned') || !noted?.length) return null;
  return { kind: 'note', turns_made: noted.slice(0, -1), place: null };
}

/** A place in another step counts for nothing. */
export function moveOf({ turn }: Step, place: BoothPlace | null): number {
  return place?.adjustment === turn.adjustment ? place.move : 0;
}
