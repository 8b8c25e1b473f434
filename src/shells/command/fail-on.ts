/** `--fail-on`: what of a measured reading a script wants to hear of by the exit status. */
import { areEyesRight, judgeOverall } from '../../record/judge-reading.ts';
import type { Reading } from '../../record/reading.ts';
import { EXIT, type ExitStatus } from './exit-status.ts';
import { choiceOption } from './options.ts';

const CONDITIONS = ['outside', 'undecided', 'eyes'] as const;
export type FailCondition = (typeof CONDITIONS)[number];

export const failOnOption = () => choiceOption('--fail-on <what...>', 'fail-on', CONDITIONS);

export function statusOf(reading: Reading, conditions: readonly FailCondition[] = []): ExitStatus {
  if (reading.outcome === 'refused') return EXIT.refused;
  const verdict = judgeOverall(reading);
  const isSo = (condition: FailCondition) => (condition === 'eyes' ? !areEyesRight(reading) : condition === verdict);
  return conditions.some(isSo) ? EXIT.failed : EXIT.measured;
}
