/**
 * One photograph judged by itself: one sentence, and one remedy where something might be better. Numbers come from the
 * facts; where one is missing the sentence does without it.
 */
import { openTopic } from './catalogue.ts';
import messages from './en/examination.json' with { type: 'json' };
import { decimalsForUncertainty, formatFigures, formatNumber } from './numbers.ts';
import { type Facts, type RefusedShot, translateRefusal } from './refusals.ts';

const { has, keys, translate, translateCode } = openTopic(messages);

/** What the engine says of a photograph, as far as it is put in words. */
export type JudgedExamination =
  | { readonly outcome: 'usable'; readonly code: string; readonly facts: Facts; readonly shows: Shown }
  | { readonly outcome: 'refused'; readonly code: string; readonly facts: Facts };
type Shown = 'left' | 'right' | 'both';

/** What is added to the examination; a refused one always has a remedy. */
export interface ExaminationWords {
  readonly message: string;
  readonly remedy: string | null;
}

export const EXAMINATION_CODES: readonly string[] = keys.filter((key) => key !== 'share' && !key.endsWith('.remedy'));

/** Throws RangeError on an unknown code: that is a fault of the program. */
export function translateExamination(examination: JudgedExamination, shot: RefusedShot): ExaminationWords {
  const { code, facts } = examination;
  if (examination.outcome === 'refused') return translateRefusal(code, facts, shot);
  const remedy = `${code}.remedy`;
  return {
    message: translateCode(code, { ...facts, shows: examination.shows, share: formatShare(facts) }),
    remedy: has(remedy) ? translate(remedy) : null,
  };
}

function formatShare({ weaker, share_pct, share_u_pct }: Facts): string {
  if (typeof share_pct !== 'number') return translate('share', { weaker });
  if (typeof share_u_pct !== 'number') return translate('share', { weaker, share: formatFigures(share_pct) });
  const decimals = decimalsForUncertainty(share_u_pct);
  const share = `${formatNumber(share_pct, decimals)} ± ${formatNumber(2 * share_u_pct, decimals)}`;
  return translate('share', { weaker, share });
}
