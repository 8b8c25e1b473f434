/** The attachment and its adjustments, each described as its kind asks for. */
import { useState } from 'react';
import { ADJUSTMENT_KINDS, type AdjustmentKind } from '../../../../record/house-adjustments.ts';
import { type MessageKey, translate } from '../../../../wording/translate.ts';
import { Button } from '../../parts/button.tsx';
import { Disclosure } from '../../parts/dialog.tsx';
import { Choice, ListChoice } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { choose, formatProblem, type Tree, valueAt } from './house-draft.ts';
import {
  ADJUSTMENT_FIELDS,
  ADJUSTMENTS,
  type AdjustmentField,
  addAdjustment,
  adjustmentsOf,
  changeKind,
  removeAdjustment,
} from './house-fields.ts';
import { type FormProps, HouseField } from './house-forms.tsx';

/** As many as the schema takes. */
const MAX_ADJUSTMENTS = 24;

export function Attachment({ editing, units }: FormProps) {
  const draft = editing.draft!;
  const { attachment } = draft.tree;
  if (attachment === undefined) {
    return (
      <section className="house-group">
        <h2>{translate('house.attachment')}</h2>
        <p className="house-cost">{translate('house.attachment-none')}</p>
        <div>
          <Button onClick={() => editing.edit((before) => choose(before, 'attachment', { adjustments: [] }))}>
            {translate('house.attachment-begin')}
          </Button>
        </div>
      </section>
    );
  }
  const adjustments = adjustmentsOf(draft);
  return (
    <section className="house-group">
      <h2>{translate('house.attachment')}</h2>
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
      <h3>{translate('house.adjustments', { count: adjustments.length })}</h3>
      <p className="house-cost">{translate('house.clockwise')}</p>
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
          {translate('house.attachment-remove')}
        </Button>
      </div>
      <Notice kind="caution" message={translate('house.caution')} remedy={translate('house.caution-more')} />
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
  const label = adjustment.label === undefined ? translate('house.unnamed') : String(adjustment.label);
  return (
    <Disclosure
      isOpenAtFirst={adjustment.label === undefined}
      summary={
        <span className="house-adjustment">
          <span>{label}</span>
          <span className="house-adjustment-kind">
            {translate(`house.kind-${kind}`)}
            {problems > 0 && ` · ${translate('house.open-fields', { count: problems })}`}
          </span>
        </span>
      }
    >
      <div className="house-fields">
        <HouseField editing={editing} units={units} path={`${path}.label`} quantity="text" isNeeded />
        <HouseField editing={editing} units={units} path={`${path}.id`} quantity="text" isNeeded />
        <ListChoice
          label={translate('house.field-kind')}
          options={ADJUSTMENT_KINDS.map((value) => ({ value, label: translate(`house.kind-${value}`) }))}
          value={kind}
          onChange={(to) => editing.edit((before) => changeKind(before, index, to))}
          hint={translate(`house.kind-${kind}-what`)}
        />
        {ADJUSTMENT_FIELDS[kind].map((field) => (
          <AdjustmentPart key={field.key} editing={editing} units={units} path={`${path}.${field.key}`} field={field} />
        ))}
      </div>
      {ofEffect && <p className="part-field-problem">{formatProblem({ code: 'zero-effect' }, 'text', units)}</p>}
      <Button
        kind="quiet"
        name={translate('house.remove-which', { label })}
        onClick={() => editing.edit((before) => removeAdjustment(before, index))}
      >
        {translate('house.remove')}
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
      label={translate(`house.field-${key}` as MessageKey)}
      options={options.map((value) => ({ value, label: translate(`house.${key}-${value}` as MessageKey) }))}
      value={String(valueAt(editing.draft!.tree, path) ?? options[0])}
      onChange={(value) => editing.edit((before) => choose(before, path, value))}
      hint={key === 'upper_port_shows' ? translate('house.hint-upper_port_shows') : undefined}
    />
  );
}

function AddAdjustment({ editing, count }: FormProps & { readonly count: number }) {
  const [kind, setKind] = useState<AdjustmentKind>('mirror-tilt');
  return (
    <div className="house-add">
      <ListChoice
        label={translate('house.add-kind')}
        options={ADJUSTMENT_KINDS.map((value) => ({ value, label: translate(`house.kind-${value}`) }))}
        value={kind}
        onChange={setKind}
        hint={translate(`house.kind-${kind}-what`)}
      />
      <Button
        whyNot={count < MAX_ADJUSTMENTS ? undefined : translate('house.add-full', { max: MAX_ADJUSTMENTS })}
        onClick={() => editing.edit((before) => addAdjustment(before, kind))}
      >
        {translate('house.add')}
      </Button>
    </div>
  );
}
