/** Before and after in words: what changed as a whole, what each figure did, and what makes the comparison doubtful. */
import type { Comparison, ComparisonDoubt, LightChange, StrayChange, TermChange } from '../record/comparison.ts';
import { decimalsForUncertainty, formatFigures, formatNumber, formatSigned } from './numbers.ts';

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

export const translateComparison = ({ verdict }: Comparison): string => WHOLE[verdict];

export const formatDoubt = (doubt: ComparisonDoubt): string => DOUBTS[doubt];

export function translateChange({ isSignificant, verdict }: TermChange): string {
  if (!isSignificant) return 'no significant change';
  return verdict === 'same' ? 'changed, as far from zero' : verdict;
}

const SIDES = { above: 'above', below: 'below', left: 'to the left of', right: 'to the right of' } as const;

/** "Stray copy above the left-eye picture: 2.1 % before, gone." */
export function formatStrayChange({ eye, side, before_pct, after_pct, verdict }: StrayChange): string {
  const percent = (measured: { readonly value: number } | null) => `${formatFigures(measured?.value ?? 0)} %`;
  const figures = {
    gone: `${percent(before_pct)} before, gone`,
    new: `${percent(after_pct)}, not there before`,
    weaker: `${percent(before_pct)} before, ${percent(after_pct)} now: weaker`,
    stronger: `${percent(before_pct)} before, ${percent(after_pct)} now: stronger`,
    same: `${percent(before_pct)} before, ${percent(after_pct)} now: the same`,
  }[verdict];
  return `Stray copy ${SIDES[side]} the ${eye}-eye picture: ${figures}.`;
}

/** Whether a picture kept its light while a stray was masked. */
export function formatLightChange({ eye, kept_pct, against, verdict }: LightChange): string {
  const picture = `${eye === 'left' ? 'Left' : 'Right'}-eye picture`;
  if (!kept_pct) return `${picture}: whether it kept its light is not known.`;
  const decimals = decimalsForUncertainty(kept_pct.u);
  const part = `${formatNumber(kept_pct.value, decimals)} ± ${formatNumber(2 * kept_pct.u, decimals)} %`;
  const basis =
    against === 'exposure' ? 'at the same exposure' : 'against the other picture; the files tell no exposure';
  const words = {
    kept: `kept its light (${part}, ${basis})`,
    brighter: `is brighter than before (${part}, ${basis})`,
    darker: `is darker than before (${part}, ${basis}): if a mask was set, it reaches in too far; draw it back`,
    unknown: `may have changed (${part}, ${basis})`,
  }[verdict];
  return `${picture} ${words}.`;
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
