/** Whether a photograph was taken as it was said to be: without glasses both pictures show. */
import { EYES, otherEye } from '../../kernel/eye.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { median } from '../../kernel/statistics.ts';
import type { ExaminedPhotograph, ExaminedShot } from './examine-shot.ts';

/** Without glasses the weaker picture has at least so much of the stronger one's light: a lamp far out of its focus. */
const MIN_BARE_BALANCE = 0.12;

/** Why a photograph is none that was taken without glasses; undefined where it can be one. */
export function judgeBare({ photo, shot }: ExaminedPhotograph): Refusal<'not-bare'> | undefined {
  const balance = balanceOf(shot);
  if (balance >= MIN_BARE_BALANCE) return undefined;
  const shown = EYES.find((eye) => shot.fit.views[eye] && !(shot.fit.views[otherEye(eye)] && balance > 0));
  return refuse('not-bare', { file: photo.file, balance_pct: 100 * balance, ...(shown && { eye: shown }) });
}

/** Light of the weaker picture over that of the stronger one; 0 where only one was found. */
function balanceOf({ fit, marks }: ExaminedShot): number {
  if (!fit.views.left || !fit.views.right) return 0;
  const [l, r] = EYES.map((eye) => median(marks[eye].map(({ contrast }) => contrast))) as [number, number];
  return Math.min(l, r) / Math.max(l, r);
}
