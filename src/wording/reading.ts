/** Puts the words and the verdict for the whole to a reading, which is measured and kept as codes and numbers only. */

import type { Entry, KeptEntry } from '../record/entry.ts';
import { judgeOverall } from '../record/judge-reading.ts';
import type { Diagnosis, ReadingCause, ReadingNextCheck, UnwordedDiagnosis } from '../record/diagnosis.ts';
import type { MeasuredReading, Reading, RefusedReading, UnwordedMeasured, UnwordedReading } from '../record/reading.ts';
import { READING_SCHEMA } from '../record/term-fields.ts';
import { openTopic } from './catalogue.ts';
import { hazardsOfCheck, translateCheck, translateRemedy } from './causes.ts';
import { chooseCautions, type Work } from './cautions.ts';
import messages from './en/reading.json' with { type: 'json' };
import { describeLearning } from './learning.ts';
import { type Facts, translateRefusal } from './refusals.ts';
import { composeSentence } from './sentence.ts';

const { keys, translateCode } = openTopic(messages);

const WARNING = 'warning.';
export const WARNING_CODES: readonly string[] = keys
  .filter((key) => key.startsWith(WARNING))
  .map((key) => key.slice(WARNING.length));

/** What did not forbid the measurement but should be known. Throws RangeError on an unknown code, as `translateRefusal` does. */
export function translateWarning(code: string, facts: Facts): string {
  return translateCode(`${WARNING}${code}`, facts);
}

/** Throws RangeError on a code without wording: that is a fault of the program, not of the photographs. */
export function translateReading(reading: UnwordedReading): Reading {
  return reading.outcome === 'measured' ? formatMeasured(reading) : formatRefused(reading);
}

function formatRefused(reading: Extract<UnwordedReading, { outcome: 'refused' }>): RefusedReading {
  const { causes: unworded, next_check, ...rest } = reading;
  const { code, facts, shot } = reading.refusal;
  const { message, remedy } = translateRefusal(code, facts, shot);
  const refusal = { code, message, remedy, shot, facts };
  if (!unworded) return { ...rest, refusal };
  const diagnosis = { causes: formatCauses(unworded), ...formatNextCheck(next_check) };
  return { ...rest, refusal, ...diagnosis, cautions: chooseCautions(workOf(diagnosis)) };
}

function formatMeasured(reading: UnwordedMeasured): MeasuredReading {
  const { next_check, learning, ...rest } = reading;
  const diagnosis = { causes: formatCauses(reading.causes), ...formatNextCheck(next_check) };
  const work = workOf(diagnosis);
  return {
    ...rest,
    sentence: composeSentence(reading),
    verdict: judgeOverall(reading),
    ...(learning && { learning: { ...learning, sentence: describeLearning(learning) } }),
    ...diagnosis,
    warnings: reading.warnings.map(({ code, facts }) => ({ code, message: translateWarning(code, facts), facts })),
    cautions: chooseCautions({
      ...work,
      atProjector: work.atProjector || reading.turns.length > 0 || reading.trial_turns.length > 0,
    }),
  };
}

/**
 * An entry of the logbook, its reading with words. Null where it holds a code that this version has no words for: a newer
 * version wrote it.
 */
export function translateEntry(entry: KeptEntry): Entry | null {
  try {
    const reading = { schema: READING_SCHEMA, ...entry.reading } as UnwordedReading;
    return { ...entry, reading: translateReading(reading) };
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** The causes of a reading after checks were made. */
export function translateDiagnosis(reading: Reading, unworded: UnwordedDiagnosis): Diagnosis {
  const diagnosis = {
    causes: formatCauses(unworded.causes),
    next_check: null,
    ...formatNextCheck(unworded.next_check),
  };
  const work = workOf(diagnosis);
  const isTurned = reading.outcome === 'measured' && reading.turns.length + reading.trial_turns.length > 0;
  return { ...diagnosis, cautions: chooseCautions({ ...work, atProjector: work.atProjector || isTurned }) };
}

function formatCauses(causes: UnwordedDiagnosis['causes']): ReadingCause[] {
  return causes.map((cause) => ({
    ...cause,
    check: translateCheck(cause.check_code),
    remedy: translateRemedy(cause.code),
  }));
}

function formatNextCheck(next: UnwordedDiagnosis['next_check']): { next_check?: ReadingNextCheck | null } {
  if (next === undefined) return {};
  return { next_check: next && { ...next, check: translateCheck(next.code) } };
}

/** What is cured at a polarizer in the beam. */
const AT_POLARIZER: ReadonlySet<string> = new Set([
  'polarizers-exchanged',
  'polarizers-missing',
  'projector-polarizer-turned',
  'both-polarizers-turned',
  'one-path-depolarizes',
]);

/** Where causes and checks send hands and feet. */
function workOf({
  causes,
  next_check,
}: {
  causes: readonly ReadingCause[];
  next_check?: ReadingNextCheck | null;
}): Work {
  const hazards = new Set(
    causes.flatMap(({ check_code, hazards = [] }) => [...hazards, ...hazardsOfCheck(check_code)]),
  );
  for (const hazard of next_check ? hazardsOfCheck(next_check.code) : []) hazards.add(hazard);
  const checks = [...causes.map(({ check_code }) => check_code), next_check?.code];
  return {
    atProjector: causes.length > 0,
    atHeight: hazards.has('ladder'),
    atPolarizer: checks.includes('turn-projector-polarizer') || causes.some(({ code }) => AT_POLARIZER.has(code)),
  };
}
