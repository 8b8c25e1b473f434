/** Before and after in words: what changed as a whole, what each figure did, and what makes the comparison doubtful. */
import type { Comparison, ComparisonDoubt, TermChange } from '../../record/comparison.ts';
import { decimalsForUncertainty, formatNumber, formatSigned } from './numbers.ts';

const WHOLE: Readonly<Record<Comparison['verdict'], string>> = {
  improved: 'Better, significantly.',
  worsened: 'Worse, significantly.',
  mixed: 'Mixed: some figures are significantly better, others significantly worse.',
  'no-significant-change': 'No significant change.',
};

const DOUBTS: Readonly<Record<ComparisonDoubt, string>> = {
  'other-house': 'The two entries are of different houses.',
  'other-aspect': 'The two targets have different shapes.',
  'other-version': 'The two were measured by different versions of Twinplumb.',
  'not-linked': 'The second entry does not say that it follows the first.',
  'in-time-reversed': 'The second entry was kept before the first.',
};

export const COMPARISON_METHOD = 'Changes ± 2 u; significant at 5 %, shared among all rows.';

export const wordComparison = ({ verdict }: Comparison): string => WHOLE[verdict];

export const wordDoubt = (doubt: ComparisonDoubt): string => DOUBTS[doubt];

export function wordChange({ isSignificant, verdict }: TermChange): string {
  if (!isSignificant) return 'no significant change';
  return verdict === 'same' ? 'changed, as far from zero' : verdict;
}

/** All figures of a row with as many places as the uncertainty of the change deserves. */
export interface ChangeFigures {
  readonly before: string;
  readonly after: string;
  readonly change: string;
  /** 2 u. */
  readonly uncertainty: string;
}

export function formatChange({ before, after, change }: TermChange): ChangeFigures {
  const decimals = decimalsForUncertainty(change.u);
  return {
    before: formatSigned(before.value, decimals),
    after: formatSigned(after.value, decimals),
    change: formatSigned(change.value, decimals),
    uncertainty: formatNumber(2 * change.u, decimals),
  };
}
