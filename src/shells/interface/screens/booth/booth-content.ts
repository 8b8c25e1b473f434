/** What the booth view shows now: one thing, the most urgent one. */
import type { Workspace } from '../../../../contract/workspace.ts';
import type { MeasuredReading, Reading, ReadingFinding } from '../../../../record/reading.ts';
import { isPredictedInside } from '../../../../wording/sentence.ts';
import { listSteps, nextStep, type Step } from '../turns/turn-steps.ts';

type Verdict = ReadingFinding['verdict'];

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
  | { readonly kind: 'sentence'; readonly sentence: string; readonly verdict: Verdict };

/** Within only where nothing at all is outside, exchanged eyes and lost polarization included. */
function judgeWhole({ findings }: MeasuredReading): Verdict {
  if (findings.some(({ verdict }) => verdict === 'outside')) return 'outside';
  return findings.some(({ verdict, level }) => verdict === 'undecided' && level === 'working') ? 'undecided' : 'within';
}

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
  return { kind: 'sentence', sentence: reading.sentence, verdict: judgeWhole(reading) };
}
