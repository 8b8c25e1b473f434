/** The numbers behind a usable photograph's sentence, few and short. */
import type { Examination } from '../../../../contract/shots.ts';
import { say } from '../../wording/say.ts';

type Usable = Extract<Examination, { outcome: 'usable' }>;

/** Shares below this are no clipping that anybody could see or would have to mend. */
const LEAST_CLIPPED_PCT = 0.05;

export function wordFacts(examination: Usable): string[] {
  const { shows, marks, expected, blur_px, brightest, clipped_pct, leak_pct } = examination;
  const stronger = shows === 'both' ? marks : marks.filter(({ eye }) => eye === shows);
  return [
    say(`shots.shows-${shows}`),
    say('shots.marks', { count: new Set(stronger.map(({ id }) => id)).size, expected }),
    say('shots.blur', { blur: blur_px }),
    say('shots.brightest', { percent: Math.round(brightest * 100) }),
    clipped_pct < LEAST_CLIPPED_PCT ? say('shots.unclipped') : say('shots.clipped', { percent: clipped_pct }),
    ...(leak_pct === null ? [] : [say('shots.leak', { percent: leak_pct })]),
  ];
}
