/** The eight terms and the worst place, in the unit that was chosen, each against its limit. */
import { useState } from 'react';
import type { MeasuredReading } from '../../../../../record/reading.ts';
import { REPORTED_FIELDS, type ReportedField } from '../../../../../record/term-fields.ts';
import { formatVerdict } from '../../../../../wording/findings.ts';
import { decimalsForUncertainty, formatNumber } from '../../../../../wording/numbers.ts';
import { formatPlace, formatTerm, nameTerm } from '../../../../../wording/terms.ts';
import { Choice } from '../../../parts/field.tsx';
import { VerdictMark } from '../../../parts/verdict-mark.tsx';
import type { Units } from '../../../lengths.ts';
import { translate } from '../../../../../wording/translate.ts';
import { chooseFinding, findingsOfTerm } from './choose-finding.ts';
import { expressTerm, TERM_UNITS, type TermUnit } from './express-term.ts';
import { Limits } from './limits.tsx';
import { ToleranceBar } from './tolerance-bar.tsx';

export interface TermsTableProps {
  readonly reading: MeasuredReading;
  readonly distance_ih: number;
  readonly units: Units;
  /** For which the reading has findings; null for a distance of one's own. */
  readonly seat: 'nearest-row' | 'reference-seat' | null;
}

export function TermsTable({ reading, distance_ih, units, seat }: TermsTableProps) {
  const [unit, setUnit] = useState<TermUnit>('percent');
  return (
    <section className="reading-terms">
      <h2>{translate('reading.terms')}</h2>
      <p className="reading-soft">{translate('reading.terms-sign')}</p>
      <Choice
        label={translate('reading.unit')}
        options={TERM_UNITS.map((value) => ({
          value,
          label:
            value === 'lengths' ? translate('reading.unit-lengths', { units }) : translate(`reading.unit-${value}`),
        }))}
        value={unit}
        onChange={setUnit}
        hint={unit === 'percent' ? undefined : translate('reading.unit-hint')}
      />
      <table>
        <thead className="unseen">
          <tr>
            <th scope="col">{translate('reading.column-term')}</th>
            <th scope="col">{translate('reading.column-value')}</th>
            <th scope="col">{translate('reading.column-limit')}</th>
          </tr>
        </thead>
        <tbody>
          {REPORTED_FIELDS.map((field) => (
            <Row
              key={field}
              field={field}
              reading={reading}
              unit={unit}
              distance_ih={distance_ih}
              units={units}
              seat={seat}
            />
          ))}
        </tbody>
      </table>
      <p className="reading-soft">{translate('reading.interval-note')}</p>
    </section>
  );
}

function Row(props: TermsTableProps & { readonly field: ReportedField; readonly unit: TermUnit }) {
  const { field, reading, unit, distance_ih, units, seat } = props;
  const { house, misalignment, findings } = reading;
  const expressed = expressTerm(field, misalignment[field], unit, house, distance_ih, units);
  const judged = findingsOfTerm(findings, field);
  const finding = chooseFinding(judged, seat);
  return (
    <tr data-term={field}>
      <th scope="row">
        {nameTerm(field)}
        <span className="reading-soft">
          {field === 'worst_vertical_pct'
            ? translate('reading.worst-place', { place: formatPlace(misalignment.worst_vertical_pct.at, house.aspect) })
            : translate(`reading.positive-${field}`)}
        </span>
      </th>
      <td className="reading-value">
        {expressed === null ? (
          <span className="reading-soft">{translate('reading.lengths-unknown')}</span>
        ) : (
          <>
            <b>
              {formatTerm(field, expressed.value, decimalsForUncertainty(expressed.u))}
              {spaceBefore(expressed.unit)}
              {expressed.unit}
            </b>
            <span className="reading-soft">± {formatNumber(2 * expressed.u, decimalsForUncertainty(expressed.u))}</span>
          </>
        )}
      </td>
      <td className="reading-against">
        {finding ? (
          <>
            <span className="reading-judged">
              <ToleranceBar finding={finding} />
              <span className="reading-verdict">
                <VerdictMark verdict={finding.verdict} isShapeOnly />
                <span aria-hidden="true">{formatVerdict(finding)}</span>
              </span>
            </span>
            <Limits finding={finding} all={judged} />
          </>
        ) : (
          <span className="reading-soft">{translate('reading.no-limit')}</span>
        )}
      </td>
    </tr>
  );
}

/** Degrees and minutes of arc stand at their number. */
const spaceBefore = (unit: string) => (unit === '°' || unit === '′' ? '' : '\u202f');
