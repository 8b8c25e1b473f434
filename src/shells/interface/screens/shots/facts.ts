/** The numbers behind a usable photograph's sentence, few and short. */
import type { Examination } from '../../../../contract/shots.ts';
import { translate } from '../../../../wording/translate.ts';

type Usable = Extract<Examination, { outcome: 'usable' }>;

/** Shares below this are no clipping that anybody could see or would have to mend. */
const LEAST_CLIPPED_PCT = 0.05;

export function formatFacts(examination: Usable): string[] {
  const { shows, marks, expected, blur_px, brightest, clipped_pct, leak_pct } = examination;
  const stronger = shows === 'both' ? marks : marks.filter(({ eye }) => eye === shows);
  return [
    translate(`shots.shows-${shows}`),
    translate('shots.marks', { count: new Set(stronger.map(({ id }) => id)).size, expected }),
    translate('shots.blur', { blur: blur_px }),
    translate('shots.brightest', { percent: Math.round(brightest * 100) }),
    clipped_pct < LEAST_CLIPPED_PCT
      ? translate('shots.unclipped')
      : translate('shots.clipped', { percent: clipped_pct }),
    ...(leak_pct === null ? [] : [translate('shots.leak', { percent: leak_pct })]),
  ];
}
