/** The eight terms and the worst place, in the unit that was chosen, each against its limit. */
import { useState } from 'react';
import type { MeasuredReading } from '../../../../../record/reading.ts';
import { REPORTED_FIELDS, type ReportedField } from '../../../../../record/term-fields.ts';
import { wordVerdict } from '../../../../../report/wording/findings.ts';
import { decimalsForUncertainty, formatNumber } from '../../../../../report/wording/numbers.ts';
import { formatTerm, nameTerm, wordPlace } from '../../../../../report/wording/terms.ts';
import { Choice } from '../../../parts/choice.tsx';
import { VerdictMark } from '../../../parts/verdict-mark.tsx';
import type { Units } from '../../../wording/lengths.ts';
import { say } from '../../../wording/say.ts';
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
      <h2>{say('reading.terms')}</h2>
      <p className="reading-soft">{say('reading.terms-sign')}</p>
      <Choice
        label={say('reading.unit')}
        options={TERM_UNITS.map((value) => ({
          value,
          label: value === 'lengths' ? say('reading.unit-lengths', { units }) : say(`reading.unit-${value}`),
        }))}
        value={unit}
        onChange={setUnit}
        hint={unit === 'percent' ? undefined : say('reading.unit-hint')}
      />
      <table>
        <thead className="unseen">
          <tr>
            <th scope="col">{say('reading.column-term')}</th>
            <th scope="col">{say('reading.column-value')}</th>
            <th scope="col">{say('reading.column-limit')}</th>
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
      <p className="reading-soft">{say('reading.interval-note')}</p>
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
            ? say('reading.worst-place', { place: wordPlace(misalignment.worst_vertical_pct.at, house.aspect) })
            : say(`reading.positive-${field}`)}
        </span>
      </th>
      <td className="reading-value">
        {expressed === null ? (
          <span className="reading-soft">{say('reading.lengths-unknown')}</span>
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
                <span aria-hidden="true">{wordVerdict(finding)}</span>
              </span>
            </span>
            <Limits finding={finding} all={judged} />
          </>
        ) : (
          <span className="reading-soft">{say('reading.no-limit')}</span>
        )}
      </td>
    </tr>
  );
}

/** Degrees and minutes of arc stand at their number. */
const spaceBefore = (unit: string) => (unit === '°' || unit === '′' ? '' : '\u202f');
