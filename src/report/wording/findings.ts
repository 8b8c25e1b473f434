/** The findings in words: what was judged, and which term of the misalignment it judges. */
import type { ReadingFinding } from '../../record/reading.ts';
import { formatFigures, formatGiven } from './numbers.ts';
import type { ReportedField } from '../../record/term-fields.ts';

interface FindingWording {
  readonly name: string;
  /** The term that is judged; null for what is no displacement. */
  readonly field: ReportedField | null;
}

const FINDINGS: Readonly<Record<string, FindingWording>> = {
  'eyes-exchanged': { name: 'Each eye its own picture', field: null },
  'no-polarization': { name: 'Both pictures in both eyes', field: null },
  'vertical-offset': { name: 'Vertical offset', field: 'vertical_offset_pct' },
  'worst-vertical': { name: 'Worst vertical error', field: 'worst_vertical_pct' },
  'horizontal-offset': { name: 'Horizontal offset', field: 'horizontal_offset_pct' },
  rotation: { name: 'Roll', field: 'rotation_deg' },
  size: { name: 'Size difference', field: 'size_pct' },
  'crosstalk-left': { name: 'Ghost through the left lens', field: null },
  'crosstalk-right': { name: 'Ghost through the right lens', field: null },
};

export const FINDING_CODES: readonly string[] = Object.keys(FINDINGS);

/** Throws on an unknown code, as `wordRefusal` does. */
export function describeFinding(code: string): FindingWording {
  const wording = FINDINGS[code];
  if (!wording) throw new RangeError(`no wording for the finding "${code}"`);
  return wording;
}

export const VERDICT_WORDS: Readonly<Record<ReadingFinding['verdict'], string>> = {
  within: 'inside',
  outside: 'outside',
  undecided: 'too close',
};

const SEATS = { 'nearest-row': 'nearest row', 'reference-seat': 'reference seat' } as const;

export function nameSeat(seat: NonNullable<ReadingFinding['seat']>): string {
  return SEATS[seat];
}

const UNITS = { arcmin: ' arcmin', deg: '°', pct: ' %' } as const;

/** "11 arcmin, limit 8.6 arcmin, from the nearest row". */
export function wordFinding(finding: ReadingFinding): string {
  const unit = UNITS[finding.unit];
  const level = finding.level === 'maximum' ? 'maximum' : 'limit';
  const seat = finding.seat ? `, ${finding.seat_assumed ? 'assumed ' : ''}${nameSeat(finding.seat)}` : '';
  return `${formatFigures(Math.abs(finding.value))}${unit}, ${level} ${formatGiven(finding.limit)}${unit}${seat}`;
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

export function sourceOfLimit(finding: ReadingFinding): string {
  return finding.confirmed ? finding.source : `${finding.source} (from memory, unconfirmed)`;
}
