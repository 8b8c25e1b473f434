/**
 * The photographs of a set that can be measured together, in the order in which they were taken. One that cannot be used
 * is left out and named where others were taken the same way; where none is left the set is refused.
 */
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import type { PhotographRole } from '../../record/roles.ts';
import type { ExaminedPhotograph, Look } from './examine-shot.ts';
import { judgeBare } from './judge-bare.ts';
import type { RolePhoto } from './read-photographs.ts';

export interface LookedAt extends RolePhoto {
  readonly look: Look;
}

/** A photograph that was not used, though others of its role were. */
export interface LeftOut {
  readonly role: PhotographRole;
  /** Among the photographs of its role, from 1. */
  readonly number: number;
  readonly file: string;
  /** Code of the refusal that it would have been alone. */
  readonly reason: string;
}

export type SortedSet =
  | {
      readonly outcome: 'sorted';
      readonly photographs: readonly ExaminedPhotograph[];
      readonly leftOut: readonly LeftOut[];
    }
  | { readonly outcome: 'refused'; readonly refusal: Refusal<string>; readonly role: PhotographRole | null };

/** `isOrderGiven`: somebody said in which order they were taken, and no time in a file says otherwise. */
export function sortOut(given: readonly LookedAt[], isOrderGiven: boolean): SortedSet {
  const usable: ExaminedPhotograph[] = [];
  const leftOut: LeftOut[] = [];
  const refusals = new Map<PhotographRole, Refusal<string>>();
  for (const [index, { role, photo, look }] of given.entries()) {
    const alike = given.filter((other) => other.role === role);
    const refusal =
      look.outcome === 'refused' ? look : role === 'bare' ? judgeBare({ role, photo, shot: look }) : undefined;
    if (refusal) {
      const number = given.slice(0, index).filter((other) => other.role === role).length + 1;
      leftOut.push({ role, number, file: photo.file, reason: refusal.code });
      const among = alike.length > 1 && { among: photo.file };
      if (!refusals.has(role)) refusals.set(role, refuse(refusal.code, { ...refusal.facts, ...among }));
    } else if (look.outcome !== 'refused') usable.push({ role, photo, shot: look });
  }
  for (const [role, refusal] of refusals) {
    if (!usable.some((photograph) => photograph.role === role)) return { outcome: 'refused', refusal, role };
  }
  const has = (role: PhotographRole) => usable.some((photograph) => photograph.role === role);
  if (!has('bare') && !(has('left-lens') && has('right-lens'))) {
    return { outcome: 'refused', refusal: refuse('lens-missing'), role: null };
  }
  return { outcome: 'sorted', photographs: isOrderGiven ? usable : orderByTime(usable), leftOut };
}

/** By the cameras' clocks where each photograph has a time of its own; as given otherwise. */
function orderByTime(photographs: readonly ExaminedPhotograph[]): readonly ExaminedPhotograph[] {
  const times = photographs.map(({ photo }) => photo.camera.takenAt);
  const areTold = times.every((time) => time !== undefined) && new Set(times).size === times.length;
  if (!areTold) return photographs;
  return photographs.toSorted((a, b) => a.photo.camera.takenAt!.localeCompare(b.photo.camera.takenAt!));
}
