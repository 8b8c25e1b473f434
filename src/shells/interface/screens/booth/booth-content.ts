/** What the booth view shows now: one thing, the most urgent one. */
import type { Round, Workspace } from '../../../../contract/workspace.ts';
import { isPredictedInside, judgeOverall } from '../../../../record/judge-reading.ts';
import type { Reading } from '../../../../record/reading.ts';
import type { OverallVerdict } from '../../../../record/values.ts';
import { listSteps, nextStep, type Step } from '../turns/turn-steps.ts';

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
      /** What comes after this step. */
      readonly after: 'next' | 'inside' | 'photograph';
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
    const left = steps.filter(({ made }) => made === null).length;
    const end = !step.isTrial && isPredictedInside(reading) ? 'inside' : 'photograph';
    return {
      kind: 'step',
      step,
      number: steps.indexOf(step) + 1,
      count: steps.length,
      after: left > 1 ? 'next' : end,
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

export type Outcome = 'within' | 'not-within' | 'refused';

/** Up for within, level for not yet, down for refused. */
const MELODIES: Readonly<Record<Outcome, readonly number[]>> = {
  within: [523.25, 659.25, 783.99],
  'not-within': [440, 440],
  refused: [329.63, 220],
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

/** Which keys lead back from the booth view: any that somebody presses to say something. */

/** Keys that only hold other keys. */
const KEYS_THAT_STAY = new Set([
  'Shift',
  'Control',
  'Alt',
  'AltGraph',
  'Meta',
  'CapsLock',
  'Fn',
  'Dead',
  'Unidentified',
]);
/** Keys that belong to the machine: nobody means to leave by making the screen darker. */
const KEYS_OF_THE_MACHINE = /^(?:Audio|Brightness|Media|Launch)/;

/** A key that is held down, as the one with which the view was opened, is no new answer. */
export function isLeavingKey({ key, repeat }: Pick<KeyboardEvent, 'key' | 'repeat'>): boolean {
  return !repeat && !KEYS_THAT_STAY.has(key) && !KEYS_OF_THE_MACHINE.test(key);
}
