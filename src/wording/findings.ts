/** The findings in words: what was judged, and which term of the misalignment it judges. */
import type { ReadingFinding } from '../record/reading.ts';
import { formatFigures, formatGiven } from './numbers.ts';
import type { ReportedField } from '../record/term-fields.ts';

interface FindingWording {
  readonly name: string;
  /** The term that is judged; null for what is no displacement. */
  readonly field: ReportedField | null;
  /** Words of its own for the verdicts, and for what was found, where numbers against a limit say little. */
  readonly verdicts?: Readonly<Record<Verdict, string>>;
  readonly found?: Readonly<Record<Verdict, string>>;
}

const FINDINGS: Readonly<Record<string, FindingWording>> = {
  'eyes-exchanged': {
    name: 'Eyes',
    field: null,
    verdicts: { within: 'as meant', outside: 'exchanged', undecided: 'cannot be told' },
    found: {
      within: 'each lens shows its own eye’s picture',
      outside: 'each lens shows the other eye’s picture',
      undecided: 'both pictures come through alike',
    },
  },
  'no-polarization': {
    name: 'Polarization',
    field: null,
    verdicts: { within: 'kept', outside: 'lost', undecided: 'too close' },
  },
  'vertical-offset': { name: 'Vertical offset', field: 'vertical_offset_pct' },
  'worst-vertical': { name: 'Worst vertical error', field: 'worst_vertical_pct' },
  'horizontal-offset': { name: 'Horizontal offset', field: 'horizontal_offset_pct' },
  rotation: { name: 'Roll', field: 'rotation_deg' },
  size: { name: 'Size difference', field: 'size_pct' },
  'crosstalk-left': { name: 'Ghost through the left lens', field: null },
  'crosstalk-right': { name: 'Ghost through the right lens', field: null },
  'stray-image': { name: 'Stray copy of a picture', field: null },
  'local-ghost': { name: 'Ghost where it is strongest', field: null },
};

export const FINDING_CODES: readonly string[] = Object.keys(FINDINGS);

/** Throws on an unknown code, as `translateRefusal` does. */
export function describeFinding(code: string): FindingWording {
  const wording = FINDINGS[code];
  if (!wording) throw new RangeError(`no wording for the finding "${code}"`);
  return wording;
}

export type Verdict = ReadingFinding['verdict'];

const VERDICTS: Readonly<Record<Verdict, string>> = { within: 'inside', outside: 'outside', undecided: 'too close' };

/** "inside", "outside", "too close", or the finding's own word. */
export function formatVerdict({ code, verdict }: Pick<ReadingFinding, 'code' | 'verdict'>): string {
  return (describeFinding(code).verdicts ?? VERDICTS)[verdict];
}

const SEATS = { 'nearest-row': 'nearest row', 'reference-seat': 'reference seat' } as const;

export function nameSeat(seat: NonNullable<ReadingFinding['seat']>): string {
  return SEATS[seat];
}

/** Finer than any limit. */
const DECIMALS = { arcmin: 2, deg: 3, pct: 3 } as const;
const UNITS = { arcmin: ' arcmin', deg: '°', pct: ' %' } as const;

/** "11 arcmin, limit 8.6 arcmin, from the nearest row". */
export function formatFinding(finding: ReadingFinding): string {
  const own = describeFinding(finding.code).found?.[finding.verdict];
  if (own !== undefined) return own;
  const unit = UNITS[finding.unit];
  const level = finding.level === 'maximum' ? 'maximum' : 'limit';
  const seat = finding.seat ? `, ${finding.seat_assumed ? 'assumed ' : ''}${nameSeat(finding.seat)}` : '';
  return `${formatFigures(Math.abs(finding.value), 2, DECIMALS[finding.unit])}${unit}, ${level} ${formatGiven(finding.limit)}${unit}${seat}`;
}

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

const UNCONFIRMED = 'from memory, unconfirmed';
const COMMON_PRACTICE = 'common practice';

/** The source, with the flag that a limit from memory or from common practice always carries. */
export function sourceOfLimit({ source, basis, confirmed }: ReadingFinding): string {
  const flag = !confirmed ? UNCONFIRMED : basis === 'common-practice' ? COMMON_PRACTICE : null;
  return flag === null || source.includes(flag) ? source : `${source} (${flag})`;
}
