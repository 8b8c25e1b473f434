/**
 * Whether the photographs of a set were taken as they were said to be: without glasses both pictures show, through a
 * lens of the glasses one of them, or a ghost beside it.
 */
import { EYES, otherEye } from '../../kernel/eye.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { median } from '../../kernel/statistics.ts';
import type { PhotographRole } from '../../record/roles.ts';
import type { ExaminedPhotograph, ExaminedShot } from './examine-shot.ts';

/** Without glasses the weaker picture has at least so much of the stronger one's light: a lamp far out of its focus. */
const MIN_BARE_BALANCE = 0.12;

/** The first photograph that is not what its role says; undefined where all are. */
export function judgeRoles(
  photographs: readonly ExaminedPhotograph[],
): { readonly refusal: Refusal<'not-bare' | 'lens-missing'>; readonly role: PhotographRole | null } | undefined {
  for (const { role, photo, shot } of photographs) {
    if (role !== 'bare') continue;
    const balance = balanceOf(shot);
    if (balance < MIN_BARE_BALANCE) {
      const shown = EYES.find((eye) => shot.fit.views[eye] && !(shot.fit.views[otherEye(eye)] && balance > 0));
      const facts = { file: photo.file, balance_pct: 100 * balance, ...(shown && { eye: shown }) };
      return { refusal: refuse('not-bare', facts), role };
    }
  }
  const has = (role: PhotographRole) => photographs.some((photograph) => photograph.role === role);
  if (has('bare') || (has('left-lens') && has('right-lens'))) return undefined;
  return { refusal: refuse('lens-missing'), role: null };
}

/** Light of the weaker picture over that of the stronger one; 0 where only one was found. */
function balanceOf({ fit, marks }: ExaminedShot): number {
  if (!fit.views.left || !fit.views.right) return 0;
  const [l, r] = EYES.map((eye) => median(marks[eye].map(({ contrast }) => contrast))) as [number, number];
  return Math.min(l, r) / Math.max(l, r);
}
