/** A light budget in words. */
import type { BudgetGain, BudgetStepRecord, RecordedBudget, UnwordedBudget } from '../record/light-budget.ts';
import { chooseCautions } from './cautions.ts';
import { LAMP_CAUTION } from './lamp-caution.ts';
import { formatLuminance } from './light.ts';
import { formatFigures } from './numbers.ts';

const STEPS: Readonly<Record<Exclude<BudgetStepRecord['code'], 'other'>, string>> = {
  'aperture-area': 'Aperture',
  'picture-area': 'Picture area',
  'film-base': 'Film base',
  polarizer: 'Polarizer',
  attachment: 'Attachment',
  'port-glass': 'Port glass',
  'screen-gain': 'Screen gain',
  glasses: 'Glasses',
};

/** The house's own name for it, where it has one. */
export function nameBudgetStep({ code, label }: Pick<BudgetStepRecord, 'code' | 'label'>): string {
  return label ?? (code === 'other' ? 'Another step' : STEPS[code]);
}

const EFFORTS: Readonly<Record<BudgetGain['effort'], string>> = {
  cleaning: 'clean it',
  setting: 'set it right',
  part: 'change a part',
  installation: 'have it rebuilt',
};

export function formatEffort(effort: BudgetGain['effort']): string {
  return EFFORTS[effort];
}

/** "Attachment, clean it: 8 % more light, 6.6 cd/m² at the eye". */
export function formatGain(gain: BudgetGain): string {
  const more = formatFigures(100 * (gain.gain.value - 1), 2, 0);
  return `${nameBudgetStep(gain)}, ${formatEffort(gain.effort)}: ${more} % more light, ${formatLuminance(gain.at_eye)} at the eye`;
}

export function translateBudget(budget: UnwordedBudget): RecordedBudget {
  return {
    ...budget,
    sentence: composeBudgetSentence(budget),
    cautions: [...chooseCautions({ atProjector: true, atHeight: false }), LAMP_CAUTION],
  };
}

function composeBudgetSentence({ at_eye, passed_pct, findings, gains }: UnwordedBudget): string {
  const left = `At the eye ${formatLuminance(at_eye)} are left, ${formatFigures(passed_pct.value, 2)} % of what was read`;
  const verdict = findings.find(({ code }) => code === 'at-the-eye')?.verdict;
  const judged =
    verdict === 'outside'
      ? '; that is too little'
      : verdict === 'undecided'
        ? '; whether that is enough is too close to tell'
        : '';
  const [best] = gains;
  const advice = best
    ? ` Most for least: ${nameBudgetStep(best).toLowerCase()}, ${formatEffort(best.effort)}, ${formatFigures(100 * (best.gain.value - 1), 2, 0)} % more.`
    : '';
  return `${left}${judged}.${advice}`;
}
