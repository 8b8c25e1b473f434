/** The chain: the reading, each step with its factor and what is left behind it, and the light at the eye. */
import { type ReactNode, useId } from 'react';
import { nameBudgetStep } from '../../../../wording/light.ts';
import { translate } from '../../../../wording/translate.ts';
import { Button } from '../../parts/button.tsx';
import { ListChoice } from '../../parts/field.tsx';
import {
  changeUnit,
  type DraftStep,
  layoutWaterfall,
  removeStep,
  type StartUnit,
  typeStep,
  type Waterfall,
} from './budget-draft.ts';
import { type LightUnit, UNIT_SIGN, writeInterval } from './light-units.ts';
import type { BudgetEditing } from './use-budget.ts';

interface ChainProps {
  readonly editing: BudgetEditing;
  readonly unit: LightUnit;
}

const START_UNITS: readonly StartUnit[] = ['cd_m2', 'fL', 'lx'];
const START_SIGNS: Readonly<Record<StartUnit, string>> = { ...UNIT_SIGN, lx: 'lx' };

export function Chain({ editing, unit }: ChainProps) {
  const { draft, problems, budget, edit } = editing;
  if (!draft) return null;
  // A budget of another number of steps is that of an earlier draft.
  const isCurrent = budget !== undefined && budget.steps.length === draft.steps.length;
  const waterfall = isCurrent ? layoutWaterfall(budget) : undefined;
  const formatOf = (field: string) => {
    const problem = problems.get(field);
    return problem === undefined ? undefined : translate(`light.problem-${problem}`);
  };
  return (
    <section className="light-section" aria-labelledby="light-chain">
      <h2 id="light-chain">{translate('light.chain')}</h2>
      <p className="light-soft light-words">{translate('light.chain-what')}</p>
      <ol className="light-chain">
        <Row
          name={translate('light.start')}
          cells={
            <>
              <NumberCell
                name={translate('light.start-value')}
                value={draft.start}
                onChange={(start) => edit((before) => ({ ...before, start }))}
                problem={formatOf('start')}
              />
              <NumberCell
                name={translate('light.start-range')}
                value={draft.startRange}
                onChange={(startRange) => edit((before) => ({ ...before, startRange }))}
                problem={formatOf('startRange')}
                isRange
              />
              <ListChoice<StartUnit>
                label={translate('light.start-unit')}
                options={START_UNITS.map((value) => ({ value, label: START_SIGNS[value] }))}
                value={draft.unit}
                onChange={(value) => edit((before) => changeUnit(before, value))}
              />
            </>
          }
          bar={waterfall && <StepBar left={waterfall.start} taken={0} />}
          left={isCurrent ? writeInterval(budget.start[unit]) : ''}
        />
        {draft.steps.map((each, i) => (
          <Row
            key={each.key}
            name={<StepName each={each} editing={editing} problem={formatOf(`label-${each.key}`)} />}
            note={translate(`light.basis-${each.step.basis}`)}
            cells={
              <>
                <NumberCell
                  name={translate('light.factor-of', { step: nameOf(each) })}
                  value={each.factor}
                  onChange={(factor) =>
                    edit((before) => typeStep(before, each.key, { factor }, translate('light.entered')))
                  }
                  problem={formatOf(`factor-${each.key}`)}
                />
                <NumberCell
                  name={translate('light.range-of', { step: nameOf(each) })}
                  value={each.range}
                  onChange={(range) =>
                    edit((before) => typeStep(before, each.key, { range }, translate('light.entered')))
                  }
                  problem={formatOf(`range-${each.key}`)}
                  isRange
                />
                <Button
                  kind="quiet"
                  name={translate('light.remove-of', { title: nameOf(each) })}
                  onClick={() => edit((before) => removeStep(before, each.key))}
                  whyNot={undefined}
                >
                  {translate('light.remove')}
                </Button>
              </>
            }
            bar={waterfall && <StepBar {...waterfall.steps[i]!} />}
            left={isCurrent ? writeInterval(budget.steps[i]!.after[unit]) : ''}
          />
        ))}
        <li className="light-step light-step-eye">
          <span className="light-step-name">
            <strong>{translate('light.at-eye')}</strong>
          </span>
          <span className="light-step-cells">
            {isCurrent && translate('light.passed', { passed: writeInterval(budget.passed_pct) })}
          </span>
          <span className="light-step-bar">{waterfall && <EyeBar waterfall={waterfall} />}</span>
          <strong className="light-step-left" role="status">
            {isCurrent ? `${writeInterval(budget.at_eye[unit])} ${UNIT_SIGN[unit]}` : ''}
          </strong>
        </li>
      </ol>
      <p className="light-soft light-words">{translate('light.chain-key', { unit: UNIT_SIGN[unit] })}</p>
    </section>
  );
}

function nameOf({ step, label }: DraftStep): string {
  return nameBudgetStep({ code: step.code, label: label.trim() === '' ? null : label });
}

interface StepNameProps {
  readonly each: DraftStep;
  readonly editing: BudgetEditing;
  readonly problem: string | undefined;
}

function StepName({ each, editing, problem }: StepNameProps) {
  if (each.step.code !== 'other') return nameOf(each);
  return (
    <NumberCell
      name={translate('light.step-label')}
      value={each.label}
      onChange={(label) => editing.edit((before) => typeStep(before, each.key, { label }, ''))}
      problem={problem}
      isText
    />
  );
}

interface RowProps {
  readonly name: ReactNode;
  readonly note?: string;
  readonly cells: ReactNode;
  readonly bar: ReactNode;
  readonly left: string;
}

function Row({ name, note, cells, bar, left }: RowProps) {
  return (
    <li className="light-step">
      <span className="light-step-name">
        {name}
        {note !== undefined && <span className="light-soft light-step-note">{note}</span>}
      </span>
      <span className="light-step-cells">{cells}</span>
      <span className="light-step-bar">{bar}</span>
      <span className="light-step-left">{left}</span>
    </li>
  );
}

function StepBar({ left, taken }: { readonly left: number; readonly taken: number }) {
  return (
    <svg viewBox="0 0 1000 20" preserveAspectRatio="none" aria-hidden="true">
      <rect className="light-bar-left" width={1000 * left} height="20" />
      {taken > 0 && <rect className="light-bar-taken" x={1000 * left} width={1000 * taken} height="20" />}
    </svg>
  );
}

function EyeBar({ waterfall: { steps, interval, asked, start } }: { readonly waterfall: Waterfall }) {
  const left = steps.at(-1)?.left ?? start;
  return (
    <svg viewBox="0 0 1000 20" preserveAspectRatio="none" aria-hidden="true">
      <rect className="light-bar-eye" width={1000 * left} height="20" />
      <rect
        className="light-bar-interval"
        x={1000 * interval[0]}
        y="8"
        width={1000 * (interval[1] - interval[0])}
        height="4"
      />
      {asked !== null && <rect className="light-bar-asked" x={1000 * asked - 2} width="4" height="20" />}
    </svg>
  );
}

/** A small field in a row whose words stand beside it: named for screen readers, what is wrong under it. */

interface NumberCellProps {
  readonly name: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly problem: string | undefined;
  /** The half width of an interval: a plus-minus sign stands before it. */
  readonly isRange?: boolean;
  readonly isText?: boolean;
}

function NumberCell({ name, value, onChange, problem, isRange, isText }: NumberCellProps) {
  const id = useId();
  return (
    <span className={`light-cell${isText ? ' light-cell-text' : ''}`}>
      <span className="light-cell-line">
        {isRange && <span aria-hidden="true">±</span>}
        <input
          type="text"
          inputMode={isText ? undefined : 'decimal'}
          autoComplete="off"
          spellCheck={false}
          maxLength={isText ? 80 : 12}
          aria-label={name}
          aria-invalid={problem === undefined ? undefined : true}
          aria-describedby={problem === undefined ? undefined : id}
          value={value}
          onChange={(event) => onChange(event.target.value)}
        />
      </span>
      {problem !== undefined && (
        <span className="part-field-problem" id={id}>
          {problem}
        </span>
      )}
    </span>
  );
}
