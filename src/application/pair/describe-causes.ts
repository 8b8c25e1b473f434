/** Causes as the record keeps them, of measured and of refused photographs. */
import { termsOfReading } from './terms-of-reading.ts';
import type { CheckAnswer } from '../../diagnosis/choose-check.ts';
import { type Diagnosis, diagnose, diagnoseRefusal } from '../../diagnosis/diagnose.ts';
import type { Eye } from '../../kernel/eye.ts';
import type { Measured } from '../../kernel/measured.ts';
import type { Refusal } from '../../kernel/refusal.ts';
import { MAP_COLUMNS, MAP_ROWS } from '../../light/eye-matrix.ts';
import type { Eyes } from '../../light/eyes.ts';
import { type CrosstalkSurvey, surveyCrosstalk } from '../../light/survey-crosstalk.ts';
import type { Finding, SeenStray } from '../../limits/judge.ts';
import type { House } from '../../record/house.ts';
import type { UnwordedDiagnosis } from '../../record/diagnosis.ts';
import type { MeasuredReading, RefusedReading } from '../../record/reading.ts';
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
function whichOfRefusal(
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
  bare: undefined,
};

/** What is needed of a reading, worded or not. */
type AnsweredReading =
  | Pick<MeasuredReading, 'outcome' | 'misalignment' | 'eyes' | 'strays' | 'findings' | 'house'>
  | (Pick<RefusedReading, 'outcome'> & {
      readonly refusal: Pick<RefusedReading['refusal'], 'code' | 'facts' | 'shot'>;
    });

/**
 * The causes of a reading again, with what checks have shown since: the answers are weighed as further observations.
 *
 * Nothing is measured again; the reading's own numbers and findings are taken as they stand.
 *
 *
 * Throws RangeError for an answer that no check of the table has.
 */
export function answerChecks(
  reading: AnsweredReading,
  house: House | undefined,
  answers: readonly CheckAnswer[],
): UnwordedDiagnosis {
  if (reading.outcome === 'refused') {
    const { code, facts, shot } = reading.refusal;
    return describeDiagnosis(diagnoseRefusal(code, whichOfRefusal(facts, shot), answers));
  }
  const { worst_vertical_pct } = reading.misalignment;
  const [x, y] = worst_vertical_pct.at;
  const judged = {
    // Causes do not look at how the terms vary together.
    misalignment: {
      terms: termsOfReading(reading),
      covariance: [],
      worstVertical: { ...fromPercent(worst_vertical_pct), at: { x, y } },
    },
    eyes: eyesOfReading(reading),
    crosstalkSurvey: surveyOfReading(reading),
    strays: straysOfReading(reading),
    house,
    aspect: reading.house.aspect,
    upperPortShows: house?.attachment?.upper_port_shows ?? ('right' as const),
  };
  const findings = reading.findings.map(
    ({ seat_assumed, ...finding }) => ({ ...finding, seatAssumed: seat_assumed }) as Finding,
  );
  return describeDiagnosis(diagnose(judged, findings, { answers }));
}

function eyesOfReading({ eyes }: Pick<MeasuredReading, 'eyes'>): Eyes | undefined {
  if (eyes.assignment === 'not-looked-at') return undefined;
  // How strong each picture was by itself is not part of a reading, and no cause depends on it.
  const unknown = { left: { value: 1, u: 1 }, right: { value: 1, u: 1 } };
  return {
    assignment: eyes.assignment,
    crosstalkLeft: fromPercent(eyes.crosstalk_left_pct),
    crosstalkRight: fromPercent(eyes.crosstalk_right_pct),
    leakLeftLens: fromPercent(eyes.leak_left_lens_pct),
    leakRightLens: fromPercent(eyes.leak_right_lens_pct),
    throughLeftLens: unknown,
    throughRightLens: unknown,
  };
}

function straysOfReading({ strays = [] }: Pick<MeasuredReading, 'strays'>): SeenStray[] {
  return strays.map(({ strength_pct, ...stray }) => ({ ...stray, strength: fromPercent(strength_pct) }));
}

function surveyOfReading({
  eyes: { matrix },
  house,
}: Pick<MeasuredReading, 'eyes' | 'house'>): CrosstalkSurvey | undefined {
  if (!matrix || matrix.map.columns !== MAP_COLUMNS || matrix.map.rows !== MAP_ROWS) return undefined;
  const map = (cells: readonly (Measured | null)[]) => cells.map((cell) => cell && fromPercent(cell));
  return surveyCrosstalk({ left: map(matrix.map.left_lens_pct), right: map(matrix.map.right_lens_pct) }, house.aspect);
}

function fromPercent({ value, u }: Measured): Measured {
  return { value: value / 100, u: u / 100 };
}
