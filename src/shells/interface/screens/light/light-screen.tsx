/** Light: how even it lies on the screen and what both eyes get, and what is left of it at the eye. */
import { useState } from 'react';
import type { ScreenProps } from '../../host/use-workspace.ts';
import { Choice } from '../../parts/field.tsx';
import { translate } from '../../../../wording/translate.ts';
import { EvennessPart } from './evenness-part.tsx';
import type { LightUnit } from './light-units.ts';
import { EMPTY_LIGHT } from '../../../../contract/light.ts';
import type { RecordedBudget } from '../../../../record/light-budget.ts';
import { formatGain, formatLightSource, nameBudgetStep } from '../../../../wording/light.ts';
import { Button } from '../../parts/button.tsx';
import { Disclosure } from '../../parts/dialog.tsx';
import { addStep } from './budget-draft.ts';
import { Chain } from './chain.tsx';
import { LightCautions, LightFindings, UnitChoice, type UnitProps } from './light-findings.tsx';
import { useBudget } from './use-budget.ts';
import './light.css';

const PARTS = ['evenness', 'budget'] as const;

export function LightScreen(props: ScreenProps) {
  const [part, setPart] = useState<(typeof PARTS)[number]>('evenness');
  const [unit, setUnit] = useState<LightUnit>('cd_m2');
  return (
    <div className="light">
      <Choice
        label={translate('light.part')}
        options={PARTS.map((value) => ({ value, label: translate(`light.part-${value}`) }))}
        value={part}
        onChange={setPart}
      />
      {part === 'evenness' ? (
        <EvennessPart {...props} unit={unit} onUnit={setUnit} />
      ) : (
        <BudgetPart {...props} unit={unit} onUnit={setUnit} />
      )}
    </div>
  );
}

/** The light budget: a chain of steps to be edited, drawn as what is left behind each, with the sum and what would give most. */
function BudgetPart({ host, workspace, unit, onUnit }: ScreenProps & UnitProps) {
  const editing = useBudget(host, workspace.light ?? EMPTY_LIGHT);
  const { draft, budget, problems, edit, startOver } = editing;
  if (draft === undefined) return <p role="status">{translate('light.budget-waiting')}</p>;
  const isMatt = draft.steps.some(({ step }) => step.code === 'screen-gain');
  return (
    <>
      <div className="light-lead">
        <h1 aria-live="polite">
          {problems.size > 0
            ? translate('light.budget-problems')
            : (budget?.sentence ?? translate('light.budget-waiting'))}
        </h1>
      </div>
      <div className="light-row">
        <UnitChoice unit={unit} onUnit={onUnit} />
        <Choice
          label={translate('light.read-from')}
          options={(['metallic', 'matt'] as const).map((value) => ({
            value,
            label: translate(`light.read-from-${value}`),
          }))}
          value={isMatt ? 'matt' : 'metallic'}
          onChange={(value) => startOver(value === 'matt')}
          hint={translate('light.read-from-hint')}
        />
      </div>
      <Chain editing={editing} unit={unit} />
      <p className="light-row">
        <Button
          onClick={() => edit((before) => addStep(before, translate('light.new-step'), translate('light.entered')))}
        >
          {translate('light.add-step')}
        </Button>
        <Button kind="quiet" onClick={() => startOver(isMatt)}>
          {translate('light.usual')}
        </Button>
      </p>
      {budget && <Gains budget={budget} />}
      {budget && <LightFindings findings={budget.findings} />}
      {budget && <Sources budget={budget} />}
      <p className="light-soft light-words">{translate('light.gain-seat')}</p>
      <LightCautions cautions={budget?.cautions ?? []} />
    </>
  );
}

function Gains({ budget: { gains } }: { readonly budget: RecordedBudget }) {
  if (gains.length === 0) return null;
  return (
    <section className="light-section" aria-labelledby="light-gains">
      <h2 id="light-gains">{translate('light.gains')}</h2>
      <ol className="light-gains">
        {gains.map((gain) => (
          <li key={gain.order}>
            {formatGain(gain)}
            <span className="light-soft">{translate('light.assumed', { assumption: gain.assumption })}</span>
          </li>
        ))}
      </ol>
    </section>
  );
}

function Sources({ budget: { steps } }: { readonly budget: RecordedBudget }) {
  return (
    <Disclosure summary={translate('light.sources')}>
      <dl className="light-sources">
        {steps.map((step) => (
          <div key={step.order}>
            <dt>{nameBudgetStep(step)}</dt>
            <dd>{formatLightSource(step.source, step.basis)}</dd>
          </div>
        ))}
      </dl>
    </Disclosure>
  );
}
