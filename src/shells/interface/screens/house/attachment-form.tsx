/** The attachment and its adjustments, each described as its kind asks for. */
import { useState } from 'react';
import { Button } from '../../parts/button.tsx';
import { Choice, ListChoice } from '../../parts/choice.tsx';
import { Disclosure } from '../../parts/disclosure.tsx';
import { Notice } from '../../parts/notice.tsx';
import { say, type WordingKey } from '../../wording/say.ts';
import {
  ADJUSTMENT_FIELDS,
  ADJUSTMENT_KINDS,
  ADJUSTMENTS,
  type AdjustmentField,
  type AdjustmentKind,
  addAdjustment,
  adjustmentsOf,
  changeKind,
  removeAdjustment,
} from './adjustment-fields.ts';
import { choose, type Tree, valueAt } from './draft.ts';
import { HouseField } from './quantity-field.tsx';
import type { FormProps } from './room-form.tsx';
import { wordProblem } from './word-problem.ts';

/** As many as the schema takes. */
const MOST_ADJUSTMENTS = 24;

export function Attachment({ editing, units }: FormProps) {
  const draft = editing.draft!;
  const { attachment } = draft.tree;
  if (attachment === undefined) {
    return (
      <section className="house-group">
        <h2>{say('house.attachment')}</h2>
        <p className="house-cost">{say('house.attachment-none')}</p>
        <div>
          <Button onClick={() => editing.edit((before) => choose(before, 'attachment', { adjustments: [] }))}>
            {say('house.attachment-begin')}
          </Button>
        </div>
      </section>
    );
  }
  const adjustments = adjustmentsOf(draft);
  return (
    <section className="house-group">
      <h2>{say('house.attachment')}</h2>
      <div className="house-fields">
        <HouseField editing={editing} units={units} path="attachment.name" quantity="text" word="attachment-name" />
        <FixedChoice editing={editing} units={units} path="attachment.upper_port_shows" options={['right', 'left']} />
        <FixedChoice
          editing={editing}
          units={units}
          path="attachment.keep_in_place"
          options={['pair-centre', 'left-picture', 'right-picture']}
        />
      </div>
      <h3>{say('house.adjustments', { count: adjustments.length })}</h3>
      <p className="house-cost">{say('house.clockwise')}</p>
      <ol className="house-adjustments">
        {adjustments.map((adjustment, i) => (
          // Adjustments have no other lasting name: even the short one can be rewritten.
          <li key={i}>
            <Adjustment editing={editing} units={units} adjustment={adjustment} index={i} />
          </li>
        ))}
      </ol>
      <AddAdjustment editing={editing} units={units} count={adjustments.length} />
      <div>
        <Button kind="quiet" onClick={() => editing.edit((before) => choose(before, 'attachment', undefined))}>
          {say('house.attachment-remove')}
        </Button>
      </div>
      <Notice kind="caution" message={say('house.caution')} remedy={say('house.caution-more')} />
    </section>
  );
}

function Adjustment({
  editing,
  units,
  adjustment,
  index,
}: FormProps & { readonly adjustment: Tree; readonly index: number }) {
  const kind = adjustment.kind as AdjustmentKind;
  const path = `${ADJUSTMENTS}.${index}`;
  const problems = [...(editing.checked?.problems.keys() ?? [])].filter((each) => each.startsWith(`${path}.`)).length;
  const ofEffect = editing.checked?.problems.get(`${path}.effect_per_turn`);
  const label = adjustment.label === undefined ? say('house.unnamed') : String(adjustment.label);
  return (
    <Disclosure
      isOpenAtFirst={adjustment.label === undefined}
      summary={
        <span className="house-adjustment">
          <span>{label}</span>
          <span className="house-adjustment-kind">
            {say(`house.kind-${kind}`)}
            {problems > 0 && ` · ${say('house.open-fields', { count: problems })}`}
          </span>
        </span>
      }
    >
      <div className="house-fields">
        <HouseField editing={editing} units={units} path={`${path}.label`} quantity="text" isNeeded />
        <HouseField editing={editing} units={units} path={`${path}.id`} quantity="text" isNeeded />
        <ListChoice
          label={say('house.field-kind')}
          options={ADJUSTMENT_KINDS.map((value) => ({ value, label: say(`house.kind-${value}`) }))}
          value={kind}
          onChange={(to) => editing.edit((before) => changeKind(before, index, to))}
          hint={say(`house.kind-${kind}-what`)}
        />
        {ADJUSTMENT_FIELDS[kind].map((field) => (
          <AdjustmentPart key={field.key} editing={editing} units={units} path={`${path}.${field.key}`} field={field} />
        ))}
      </div>
      {ofEffect && <p className="part-field-problem">{wordProblem({ code: 'zero-effect' }, 'text', units)}</p>}
      <Button
        kind="quiet"
        name={say('house.remove-which', { label })}
        onClick={() => editing.edit((before) => removeAdjustment(before, index))}
      >
        {say('house.remove')}
      </Button>
    </Disclosure>
  );
}

interface PartProps extends FormProps {
  readonly path: string;
  readonly field: AdjustmentField;
}

function AdjustmentPart({ editing, units, path, field }: PartProps) {
  if ('options' in field) return <FixedChoice editing={editing} units={units} path={path} options={field.options} />;
  return <HouseField editing={editing} units={units} path={path} quantity={field.quantity} isNeeded={field.isNeeded} />;
}

/** A word of the schema, chosen from all that it allows; the first one holds while nothing is said. */
function FixedChoice({
  editing,
  path,
  options,
}: FormProps & { readonly path: string; readonly options: readonly string[] }) {
  const key = path.split('.').at(-1)!;
  return (
    <Choice
      label={say(`house.field-${key}` as WordingKey)}
      options={options.map((value) => ({ value, label: say(`house.${key}-${value}` as WordingKey) }))}
      value={String(valueAt(editing.draft!.tree, path) ?? options[0])}
      onChange={(value) => editing.edit((before) => choose(before, path, value))}
      hint={key === 'upper_port_shows' ? say('house.hint-upper_port_shows') : undefined}
    />
  );
}

function AddAdjustment({ editing, count }: FormProps & { readonly count: number }) {
  const [kind, setKind] = useState<AdjustmentKind>('mirror-tilt');
  return (
    <div className="house-add">
      <ListChoice
        label={say('house.add-kind')}
        options={ADJUSTMENT_KINDS.map((value) => ({ value, label: say(`house.kind-${value}`) }))}
        value={kind}
        onChange={setKind}
        hint={say(`house.kind-${kind}-what`)}
      />
      <Button
        whyNot={count < MOST_ADJUSTMENTS ? undefined : say('house.add-full', { most: MOST_ADJUSTMENTS })}
        onClick={() => editing.edit((before) => addAdjustment(before, kind))}
      >
        {say('house.add')}
      </Button>
    </div>
  );
}
