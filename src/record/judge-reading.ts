/** What follows from a reading's own numbers: verdicts for the whole, what is left after its turns, what a mark is worth. */
import type { MarkEvidence, MeasuredReading, ReadingFinding, UnwordedMeasured } from './reading.ts';
import type { ReportedField } from './term-fields.ts';
import type { OverallVerdict } from './values.ts';

/** What of a reading its verdict follows from. */
type Judged = Pick<MeasuredReading, 'findings' | 'eyes'>;

/**
 * The one verdict for the whole. One limit broken breaks it, swapped or missing eyes included; what is undecided leaves it
 * undecided, eyes included; and where nobody has looked at the eyes it says so, however good the geometry is.
 */
export function judgeOverall({ findings, eyes }: Judged): OverallVerdict {
  if (findings.some(({ verdict }) => verdict === 'outside')) return 'outside';
  const seen = eyes.matrix?.class;
  if (eyes.assignment === 'swapped' || seen === 'swapped' || seen === 'one-eye-missing') return 'outside';
  if (findings.some(({ verdict, level }) => verdict === 'undecided' && level === 'working')) return 'undecided';
  if (eyes.assignment === 'undetermined' || seen === 'undecided' || seen === 'both-in-both') return 'undecided';
  return eyes.assignment === 'not-looked-at' ? 'geometry-within' : 'within';
}

/** Each eye is known to see its own picture: not swapped, missing or undetermined, and looked at. */
export function areEyesRight({ eyes }: Pick<MeasuredReading, 'eyes'>): boolean {
  const seen = eyes.matrix?.class;
  const isAmiss = seen === 'swapped' || seen === 'one-eye-missing' || seen === 'undecided' || seen === 'both-in-both';
  return eyes.assignment === 'correct' && !isAmiss;
}

/** The term that a finding judges; null for what is no displacement. */
export const FIELD_OF_FINDING: Readonly<Record<string, ReportedField | null>> = {
  'eyes-exchanged': null,
  'no-polarization': null,
  'vertical-offset': 'vertical_offset_pct',
  'worst-vertical': 'worst_vertical_pct',
  'horizontal-offset': 'horizontal_offset_pct',
  rotation: 'rotation_deg',
  size: 'size_pct',
  'crosstalk-left': null,
  'crosstalk-right': null,
  'stray-image': null,
  'local-ghost': null,
};

/** How far out a finding lies: amount over limit. */
export function severityOf(finding: ReadingFinding): number {
  return Math.abs(finding.value) / finding.limit;
}

/** One finding for each code, the most severe (the nearest row, where a code is judged at several seats). */
export function mostSevereByCode(findings: readonly ReadingFinding[]): ReadingFinding[] {
  const worst = new Map<string, ReadingFinding>();
  for (const finding of findings) {
    const known = worst.get(finding.code);
    if (!known || severityOf(finding) > severityOf(known)) worst.set(finding.code, finding);
  }
  return [...worst.values()];
}

export interface LeftTerm {
  readonly field: ReportedField;
  /** In the unit of the field; the worst place is an amount. */
  readonly now: number;
  readonly u: number;
  readonly after: number;
  /** Null where the term is exactly nothing, so that no limit can be carried over. */
  readonly limit: number | null;
  readonly verdict: ReadingFinding['verdict'];
  readonly isInsideAfter: boolean;
  readonly isTurned: boolean;
}

/**
 * Predicted result after the turns, against the limits: one line for each judged term, at the seat that judges it most
 * closely.
 */
export function listLeftAfterTurns(reading: MeasuredReading): LeftTerm[] {
  const { findings, misalignment, predicted_after } = reading;
  return mostSevereByCode(findings.filter(({ level }) => level === 'working')).flatMap((finding) => {
    const field = FIELD_OF_FINDING[finding.code];
    if (!field) return [];
    const { value: now, u } = misalignment[field];
    const after = predicted_after[field];
    const limit = now === 0 ? null : Math.abs((finding.limit * now) / finding.value);
    const isInsideAfter = isInsideAfterTurns(finding, field, reading);
    return [
      { field, now, u, after, limit, verdict: finding.verdict, isInsideAfter, isTurned: Math.abs(after - now) > 1e-9 },
    ];
  });
}

/** Whether every judged term lies inside its working limit after the turns, with the whole of its uncertainty. */
export function isPredictedInside(reading: UnwordedMeasured): boolean {
  return reading.findings.every((finding) => {
    const field = FIELD_OF_FINDING[finding.code];
    return finding.level !== 'working' || !field || isInsideAfterTurns(finding, field, reading);
  });
}

/**
 * Angles at a seat are proportional to the displacement to better than 1 in 10 000 here, so the found value is scaled by
 * predicted over present term.
 */
function isInsideAfterTurns(
  { value, limit, verdict }: ReadingFinding,
  field: ReportedField,
  { misalignment, predicted_after }: Pick<UnwordedMeasured, 'misalignment' | 'predicted_after'>,
): boolean {
  const { value: present, u } = misalignment[field];
  if (present === 0) return verdict === 'within';
  return Math.abs(value / present) * (Math.abs(predicted_after[field]) + 2 * u) <= limit;
}

/** `left-out`: not in the fit; `stands-out`: used, though further from its place than its uncertainty explains. */
type Standing = 'left-out' | 'stands-out' | 'usual';

/** Of the places of a mark that is as uncertain as it says, 99 % lie within this many standard uncertainties. */
const STANDS_OUT = Math.sqrt(-2 * Math.log(0.01));

export interface MarkWorth {
  readonly standing: Standing;
  readonly residual_px: number;
  /** Root of the mean of both axes' variances. */
  readonly u_px: number;
  /** The residual in units of its uncertainty, along each axis in its own. */
  readonly ratio: number;
}

export function rateMark({ residual_px: [rx, ry], u_px: [ux, uy], used }: MarkEvidence): MarkWorth {
  const ratio = Math.hypot(rx / ux, ry / uy);
  return {
    standing: used ? (ratio > STANDS_OUT ? 'stands-out' : 'usual') : 'left-out',
    residual_px: Math.hypot(rx, ry),
    u_px: Math.sqrt((ux * ux + uy * uy) / 2),
    ratio,
  };
}

type ImageMotion = MeasuredReading['image_motion'][number];

/**
 * How each picture has to go, for a house whose adjustments are not described: what sentence, screens and reports all say.
 * Only terms that are not within their limit; where the findings name none, those that are sure. What stays is 0.
 */
export function listNeededMotion({
  image_motion,
  misalignment,
  findings,
}: Pick<UnwordedMeasured, 'image_motion' | 'misalignment' | 'findings'>): ImageMotion[] {
  const faulty = new Set(
    findings
      .filter(({ level, verdict }) => level === 'working' && verdict !== 'within')
      .map(({ code }) => FIELD_OF_FINDING[code]),
  );
  const fields = ['vertical_offset_pct', 'horizontal_offset_pct', 'rotation_deg'] as const;
  const named = fields.filter((field) => faulty.has(field));
  const isMeant = (field: (typeof fields)[number]) => {
    const { value, u } = misalignment[field];
    return named.length > 0 ? named.includes(field) : Math.abs(value) > 2 * u;
  };
  return image_motion.map(({ eye, vertical_pct, horizontal_pct, rotation_deg }) => ({
    eye,
    vertical_pct: isMeant('vertical_offset_pct') ? vertical_pct : 0,
    horizontal_pct: isMeant('horizontal_offset_pct') ? horizontal_pct : 0,
    rotation_deg: isMeant('rotation_deg') ? rotation_deg : 0,
  }));
}
