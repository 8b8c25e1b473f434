/** The uncertainty of a figure, source by source, the largest first; and what lies beyond the terms. */
import type { FigureBudget, MeasuredReading } from '../record/reading.ts';
import { decimalsForUncertainty, formatNumber } from '../wording/numbers.ts';
import { nameTerm, unitOfTerm } from '../wording/terms.ts';
import { translate } from '../wording/translate.ts';
import {
  describeRemainder,
  formatContribution,
  formatDegrees,
  formatShare,
  isReportedField,
  nameBasis,
  nameSource,
  suggestShrinking,
} from '../wording/uncertainty.ts';

export function UncertaintyBudget({ budget }: { readonly budget: FigureBudget }) {
  const { figure, lines, u, u_repeat, degrees_of_freedom, expanded_95 } = budget;
  const decimals = Math.min(5, decimalsForUncertainty(u) + 1);
  const unit = isReportedField(figure) ? unitOfTerm(figure) : '%';
  const remedy = suggestShrinking(budget);
  const totals = [
    { key: 'combined', amount: u, degrees: formatDegrees(degrees_of_freedom) },
    { key: 'repeatable', amount: u_repeat, degrees: '' },
    { key: 'expanded', amount: expanded_95, degrees: '' },
  ] as const;
  return (
    <figure className="budget" data-figure={figure}>
      <table>
        <caption>
          {translate('reading.budget-of', { figure: isReportedField(figure) ? nameTerm(figure) : figure, unit })}
        </caption>
        <thead>
          <tr>
            <th scope="col">{translate('reading.budget-source')}</th>
            <th scope="col">{translate('reading.budget-type')}</th>
            <th scope="col" className="n">
              {translate('reading.budget-u')}
            </th>
            <th scope="col" className="n" colSpan={2}>
              {translate('reading.budget-share')}
            </th>
            <th scope="col" className="n">
              <abbr title={translate('reading.budget-degrees-long')}>{translate('reading.budget-degrees')}</abbr>
            </th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={`${line.source} ${line.basis}`}>
              <th scope="row">
                {nameSource(line.source)}
                <span className="soft">{nameBasis(line.basis)}</span>
              </th>
              <td>{line.type}</td>
              <td className="n">{formatContribution(line.u, decimals)}</td>
              <td className="share">
                <svg viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
                  <rect width="100" height="8" fill="var(--line)" />
                  <rect width={formatNumber(line.share_pct, 1)} height="8" fill="var(--ink)" />
                </svg>
              </td>
              <td className="n">{formatShare(line.share_pct)} %</td>
              <td className="n">{formatDegrees(line.degrees_of_freedom)}</td>
            </tr>
          ))}
        </tbody>
        <tfoot>
          {totals.map(({ key, amount, degrees }) => (
            <tr key={key}>
              <th scope="row" colSpan={2}>
                {translate(`reading.budget-${key}`)}
              </th>
              <td className="n">{formatContribution(amount, decimals)}</td>
              <td colSpan={2} />
              <td className="n">{degrees}</td>
            </tr>
          ))}
        </tfoot>
      </table>
      {remedy && (
        <figcaption>
          <b>{translate('reading.budget-shrink')}</b> {remedy}
        </figcaption>
      )}
    </figure>
  );
}

export interface RemainderProps {
  readonly reading: MeasuredReading;
  /** Nothing is said of a remainder that does not stand clear of its uncertainty. */
  readonly isFaintHidden?: boolean;
}

/** What the two pictures differ by beyond the eight terms: a figure of its own. */
export function Remainder({ reading, isFaintHidden }: RemainderProps) {
  const remainder = describeRemainder(reading);
  if (!remainder || (isFaintHidden && !remainder.isClear)) return null;
  if (!remainder.isClear) return <p className="note soft remainder">{remainder.sentence}</p>;
  return (
    <p className="remainder">
      <b>{remainder.sentence}</b> {remainder.reasons}
    </p>
  );
}
