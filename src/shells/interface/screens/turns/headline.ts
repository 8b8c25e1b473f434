/** The one sentence of this screen: how many turns, and what comes after them. */
import type { Round } from '../../../../contract/workspace.ts';
import type { MeasuredReading } from '../../../../record/reading.ts';
import { isPredictedInside } from '../../../../wording/sentence.ts';
import { translate } from '../../../../wording/translate.ts';
import { listSteps, nextStep } from './turn-steps.ts';

export interface Headline {
  readonly sentence: string;
  readonly addition: string | null;
}

export function formatHeadline(reading: MeasuredReading, round: Round): Headline {
  const steps = listSteps(reading, round);
  const isAllTurned = steps.length > 0 && nextStep(steps) === undefined;
  const left = steps.filter(({ made }) => made === null).length;
  if (isAllTurned) return { sentence: translate('turns.turned'), addition: translate('turns.turned-how') };
  switch (reading.advice) {
    case 'turn': {
      const key = isPredictedInside(reading) ? 'turns.headline-inside' : 'turns.headline-then-again';
      return {
        sentence: translate(key, { count: left, more: left < steps.length ? 'yes' : 'no' }),
        addition: null,
      };
    }
    case 'trial':
      return { sentence: translate('turns.headline-trial'), addition: translate('turns.why-trial') };
    default:
      return { sentence: translate(`turns.headline-${reading.advice}`), addition: reading.sentence };
  }
}
