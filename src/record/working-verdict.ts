/** One verdict for a whole reading, by the limits to which one adjusts. */
import type { MeasuredReading } from './reading.ts';
import type { Verdict } from './values.ts';

/** One limit broken breaks the whole, one undecided leaves it undecided. */
export function judgeWorkingLevel({ findings }: Pick<MeasuredReading, 'findings'>): Verdict {
  const verdicts = new Set(findings.filter(({ level }) => level === 'working').map(({ verdict }) => verdict));
  if (verdicts.has('outside')) return 'outside';
  return verdicts.has('undecided') ? 'undecided' : 'within';
}
