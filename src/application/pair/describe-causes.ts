/** Causes as the record keeps them, of measured and of refused photographs. */
import { type Diagnosis, diagnoseRefusal } from '../../diagnosis/diagnose.ts';
import type { Eye } from '../../kernel/eye.ts';
import type { Refusal } from '../../kernel/refusal.ts';
import type { UnwordedDiagnosis } from '../../record/reading.ts';
import type { PhotographRole } from '../../record/roles.ts';

export function describeDiagnosis({ causes, nextCheck }: Diagnosis): UnwordedDiagnosis {
  return {
    causes: causes.map(({ check, ...cause }) => ({ ...cause, check_code: check })),
    next_check: nextCheck ? { code: nextCheck.code, gain_bits: nextCheck.gain_bits } : null,
  };
}

/** Nothing where the refusal tells of no fault in the house. */
export function describeRefusalCauses(
  { code, facts }: Refusal<string>,
  shot: PhotographRole | null,
): Partial<UnwordedDiagnosis> {
  const diagnosis = diagnoseRefusal(code, whichOfRefusal(facts, shot));
  return diagnosis.causes.length > 0 ? describeDiagnosis(diagnosis) : {};
}

/** The lens of the photograph that was refused, and the eye whose picture alone is there. */
export function whichOfRefusal(
  facts: Refusal<string>['facts'],
  shot: PhotographRole | null,
): { readonly lens: Eye | undefined; readonly shown: Eye | undefined } {
  const shown = facts['eye'] === 'left' || facts['eye'] === 'right' ? facts['eye'] : undefined;
  return { lens: LENS_OF[shot ?? 'closing'], shown };
}

const LENS_OF: Readonly<Record<PhotographRole, Eye | undefined>> = {
  'left-lens': 'left',
  'right-lens': 'right',
  closing: undefined,
};
