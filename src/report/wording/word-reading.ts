/** Puts the words to a reading that so far holds codes and numbers only. */
import type {
  MeasuredReading,
  Reading,
  RefusedReading,
  UnwordedMeasured,
  UnwordedReading,
} from '../../record/reading.ts';
import { chooseCautions } from './cautions.ts';
import { CHECKS_AT_HEIGHT, wordCheck } from './causes.ts';
import { wordRefusal } from './refusals.ts';
import { composeSentence } from './sentence.ts';
import { wordWarning } from './warnings.ts';

/** Throws RangeError on a code without wording: that is a fault of the program, not of the photographs. */
export function wordReading(reading: UnwordedReading): Reading {
  return reading.outcome === 'measured' ? wordMeasured(reading) : wordRefused(reading);
}

function wordRefused(reading: Extract<UnwordedReading, { outcome: 'refused' }>): RefusedReading {
  const { code, facts, shot } = reading.refusal;
  const { message, remedy } = wordRefusal(code, facts, shot);
  return { ...reading, refusal: { code, message, remedy, shot, facts } };
}

function wordMeasured(reading: UnwordedMeasured): MeasuredReading {
  return {
    ...reading,
    sentence: composeSentence(reading),
    causes: reading.causes.map((cause) => ({ ...cause, check: wordCheck(cause.check_code) })),
    warnings: reading.warnings.map(({ code, facts }) => ({ code, message: wordWarning(code, facts), facts })),
    cautions: chooseCautions({
      atProjector: reading.turns.length > 0 || reading.trial_turns.length > 0 || reading.causes.length > 0,
      atHeight: reading.causes.some(({ check_code }) => CHECKS_AT_HEIGHT.has(check_code)),
    }),
  };
}
