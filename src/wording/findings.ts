/** The findings in words: what was judged, and which term of the misalignment it judges. */
import { FIELD_OF_FINDING } from '../record/judge-reading.ts';
import type { ReadingFinding } from '../record/reading.ts';
import type { ReportedField } from '../record/term-fields.ts';
import { openTopic } from './catalogue.ts';
import messages from './en/reading.json' with { type: 'json' };
import { formatFigures, formatGiven } from './numbers.ts';

const { has, translate, translateCode } = openTopic(messages);

export const FINDING_CODES: readonly string[] = Object.keys(FIELD_OF_FINDING);

/** Throws RangeError on an unknown code, as `translateRefusal` does. */
export function describeFinding(code: string): { readonly name: string; readonly field: ReportedField | null } {
  return { name: translateCode(`finding.${code}`), field: FIELD_OF_FINDING[code] ?? null };
}

/** "inside", "outside", "too close", or the finding's own word. */
export function formatVerdict({ code, verdict }: Pick<ReadingFinding, 'code' | 'verdict'>): string {
  const own = `finding.${code}.${verdict}`;
  return has(own) ? translate(own) : translate(`verdict.${verdict}`);
}

export function nameSeat(seat: NonNullable<ReadingFinding['seat']>): string {
  return translate(`seat.${seat}`);
}

/** Finer than any limit. */
const DECIMALS = { arcmin: 2, deg: 3, pct: 3 } as const;

/** "11 arcmin, limit 8.6 arcmin, from the nearest row". */
export function formatFinding(finding: ReadingFinding): string {
  const { code, verdict, unit, level, seat, seat_assumed } = finding;
  // Words of its own, where numbers against a limit say little.
  const own = `finding.${code}.found.${verdict}`;
  if (has(own)) return translate(own);
  return translate('found', {
    value: formatFigures(Math.abs(finding.value), 2, DECIMALS[unit]),
    unit,
    level,
    limit: formatGiven(finding.limit),
    seat: seat ? nameSeat(seat) : undefined,
    assumed: seat ? (seat_assumed ? 'yes' : 'no') : undefined,
  });
}

/** The source, with the flag that a limit from memory or from common practice always carries. */
export function sourceOfLimit({ source, basis, confirmed }: ReadingFinding): string {
  const flag = !confirmed
    ? translate('limit.unconfirmed')
    : basis === 'common-practice'
      ? translate('limit.common-practice')
      : null;
  return flag === null || source.includes(flag) ? source : translate('limit-source', { source, flag });
}
