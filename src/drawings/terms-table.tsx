/** The eight terms and the worst place, each with its figures and against its limit. */
import type { ReactNode } from 'react';
import type { MeasuredReading, ReadingFinding } from '../record/reading.ts';
import { REPORTED_FIELDS, type ReportedField } from '../record/term-fields.ts';
import { formatFinding, formatVerdict } from '../wording/findings.ts';
import { decimalsForUncertainty, formatNumber } from '../wording/numbers.ts';
import { formatPlace, formatTerm, nameTerm } from '../wording/terms.ts';
import { translate } from '../wording/translate.ts';
import { formatAtMost, formatRepeatable, isAmountNearZero } from '../wording/uncertainty.ts';
import { ToleranceBar } from './tolerance-bar.tsx';
import { VerdictMark } from './verdict-mark.tsx';

/** A column of figures: its head, and what it says of each term. */
export interface FigureColumn {
  readonly key: string;
  readonly head: ReactNode;
  readonly figure: (field: ReportedField) => ReactNode;
}

export interface TermsTableProps {
  readonly reading: MeasuredReading;
  readonly figures: readonly FigureColumn[];
  /** The limit that each term is shown against. */
  readonly findingOf: (field: ReportedField) => ReadingFinding | undefined;
  /** The head is for screen readers only. */
  readonly isHeadUnseen?: boolean;
  /** What else is said of the limit, below the bar. */
  readonly limits?: (field: ReportedField, finding: ReadingFinding) => ReactNode;
}

export function TermsTable({ reading, figures, findingOf, isHeadUnseen, limits }: TermsTableProps) {
  return (
    <table className="terms">
      <thead className={isHeadUnseen ? 'unseen' : undefined}>
        <tr>
          <th scope="col">{translate('reading.column-term')}</th>
          {figures.map(({ key, head }) => (
            <th key={key} scope="col" className="n">
              {head}
            </th>
          ))}
          <th scope="col">{translate('reading.column-limit')}</th>
        </tr>
      </thead>
      <tbody>
        {REPORTED_FIELDS.map((field) => {
          const finding = findingOf(field);
          return (
            <tr key={field} data-term={field}>
              <th scope="row">
                {nameTerm(field)}
                <span className="soft">{describeSign(field, reading)}</span>
              </th>
              {figures.map(({ key, figure }) => (
                <td key={key} className="n">
                  {figure(field)}
                </td>
              ))}
              <td className="against">
                {finding ? (
                  <>
                    <span className="judged">
                      <ToleranceBar
                        value={finding.value}
                        u={finding.u}
                        limit={finding.limit}
                        isOneSided={finding.code === 'horizontal-offset'}
                        label={formatFinding(finding)}
                      />
                      <VerdictMark verdict={finding.verdict} words={formatVerdict(finding)} />
                    </span>
                    {limits?.(field, finding)}
                  </>
                ) : (
                  <span className="soft">{translate('reading.no-limit')}</span>
                )}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** What a positive value means, or where the worst place lies. */
function describeSign(field: ReportedField, { misalignment, house }: MeasuredReading): string {
  return field === 'worst_vertical_pct'
    ? translate('reading.worst-place', { place: formatPlace(misalignment.worst_vertical_pct.at, house.aspect) })
    : translate(`reading.positive-${field}`);
}

export interface TermFigureProps {
  readonly field: ReportedField;
  readonly value: number;
  /** Standard uncertainty; twice of it is written. */
  readonly u: number;
  /** The part of it that changes from one set of photographs to the next, where it is known. */
  readonly u_repeat?: number | undefined;
  readonly unit: string;
}

/** "+0.55 % ± 0.11", and softer the repeatable part: degrees and minutes of arc stand at their number. */
export function TermFigure({ field, value, u, u_repeat, unit }: TermFigureProps) {
  const decimals = decimalsForUncertainty(2 * u);
  return (
    <span className="term-figure">
      <b>
        {formatTerm(field, value, decimals)}
        {unit === '°' || unit === '′' ? '' : '\u202f'}
        {unit}
      </b>
      <span className="soft">
        {isAmountNearZero(field, value, u) ? formatAtMost(value, u) : `± ${formatNumber(2 * u, decimals)}`}
      </span>
      {u_repeat !== undefined && <span className="soft repeatable">{formatRepeatable(u_repeat)}</span>}
    </span>
  );
}
