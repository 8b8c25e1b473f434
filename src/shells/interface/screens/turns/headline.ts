/** The one sentence of this screen: how many turns, and what comes after them. */
import type { Round } from '../../../../contract/workspace.ts';
import type { MeasuredReading } from '../../../../record/reading.ts';
import { isPredictedInside } from '../../../../report/wording/sentence.ts';
import { say } from '../../wording/say.ts';
import { listSteps, nextStep } from './turn-steps.ts';

export interface Headline {
  readonly sentence: string;
  readonly addition: string | null;
}

export function wordHeadline(reading: MeasuredReading, round: Round): Headline {
  const steps = listSteps(reading, round);
  const isAllTurned = steps.length > 0 && nextStep(steps) === undefined;
  const left = steps.filter(({ made }) => made === null).length;
  if (isAllTurned) return { sentence: say('turns.turned'), addition: say('turns.turned-how') };
  switch (reading.advice) {
    case 'turn': {
      const key = isPredictedInside(reading) ? 'turns.headline-inside' : 'turns.headline-then-again';
      return {
        sentence: say(key, { count: left, more: left < steps.length ? 'yes' : 'no' }),
        addition: null,
      };
    }
    case 'trial':
      return { sentence: say('turns.headline-trial'), addition: say('turns.why-trial') };
    default:
      return { sentence: say(`turns.headline-${reading.advice}`), addition: reading.sentence };
  }
}
