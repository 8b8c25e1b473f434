/** What was measured of the two pictures: the terms in the unit that was chosen, and the eyes; each against its limits. */
import { useState } from 'react';
import { EyesPanel } from '../../../../../drawings/eyes-panel.tsx';
import { TermFigure, TermsTable } from '../../../../../drawings/terms-table.tsx';
import { Remainder, UncertaintyBudget } from '../../../../../drawings/uncertainty-budget.tsx';
import type { MeasuredReading } from '../../../../../record/reading.ts';
import { REPORTED_FIELDS, type ReportedField } from '../../../../../record/term-fields.ts';
import { expressTerm, TERM_UNITS, type TermUnit, type Units } from '../../../../../wording/lengths.ts';
import { nameTerm } from '../../../../../wording/terms.ts';
import { translate } from '../../../../../wording/translate.ts';
import { describeUncancelled } from '../../../../../wording/uncertainty.ts';
import { Disclosure } from '../../../parts/dialog.tsx';
import { Choice, ListChoice } from '../../../parts/field.tsx';
import { chooseFinding, findingsOfTerm, Limits } from './limits.tsx';

export interface TermsPanelProps {
  readonly reading: MeasuredReading;
  readonly distance_ih: number;
  readonly units: Units;
  /** For which the reading has findings; null for a distance of one's own. */
  readonly seat: 'nearest-row' | 'reference-seat' | null;
}

export function TermsPanel({ reading, distance_ih, units, seat }: TermsPanelProps) {
  const [unit, setUnit] = useState<TermUnit>('percent');
  const { house, misalignment, findings } = reading;
  const uncancelled = describeUncancelled(reading);
  const figure = (field: ReportedField) => {
    const expressed = expressTerm(field, misalignment[field], unit, house, distance_ih, units);
    return expressed === null ? (
      <span className="soft">{translate('reading.lengths-unknown')}</span>
    ) : (
      <TermFigure field={field} {...expressed} />
    );
  };
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
      <TermsTable
        reading={reading}
        figures={[{ key: 'value', head: translate('reading.column-value'), figure }]}
        isHeadUnseen
        findingOf={(field) => chooseFinding(findingsOfTerm(findings, field), seat)}
        limits={(field, finding) => <Limits finding={finding} all={findingsOfTerm(findings, field)} />}
      />
      <p className="reading-soft">{translate('reading.interval-note')}</p>
      <Remainder reading={reading} isFaintHidden />
      <Budget reading={reading} />
      {uncancelled && <p className="reading-uncancelled">{uncancelled}</p>}
    </section>
  );
}

function Budget({ reading: { budget = [] } }: { readonly reading: MeasuredReading }) {
  const [figure, setFigure] = useState<string>('worst_vertical_pct');
  const chosen = budget.find((each) => each.figure === figure);
  if (!chosen) return null;
  return (
    <Disclosure summary={translate('reading.budget')}>
      <ListChoice
        label={translate('reading.budget-figure')}
        options={REPORTED_FIELDS.map((value) => ({ value, label: nameTerm(value) }))}
        value={figure}
        onChange={setFigure}
      />
      <UncertaintyBudget budget={chosen} />
      <p className="reading-soft">{translate('reading.budget-note')}</p>
    </Disclosure>
  );
}

export function EyesSection({ reading }: { readonly reading: MeasuredReading }) {
  const findingsOf = (lens: 'left' | 'right') => reading.findings.filter(({ code }) => code === `crosstalk-${lens}`);
  return (
    <section className="reading-eyes">
      <h2>{translate('reading.eyes')}</h2>
      <EyesPanel
        reading={reading}
        findingOf={(lens) => chooseFinding(findingsOf(lens), null)}
        limits={(lens, finding) => <Limits finding={finding} all={findingsOf(lens)} />}
      />
    </section>
  );
}
