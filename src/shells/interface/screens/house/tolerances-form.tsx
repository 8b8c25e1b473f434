/** Limits of the house in place of the built-in ones; each says where it comes from. */
import { Button } from '../../parts/button.tsx';
import { Disclosure } from '../../parts/disclosure.tsx';
import { translate, type MessageKey } from '../../../../wording/translate.ts';
import { choose, valueAt } from './draft.ts';
import { HouseField } from './quantity-field.tsx';
import type { FormProps } from './room-form.tsx';
import { TOLERANCE_FIELDS, type ToleranceField } from './tolerance-fields.ts';

export function Tolerances({ editing, units }: FormProps) {
  return (
    <section className="house-group">
      <h2>{translate('house.tolerances')}</h2>
      <p className="house-cost">{translate('house.tolerances-what')}</p>
      <ul className="house-tolerances">
        {TOLERANCE_FIELDS.map((field) => (
          <li key={field.key}>
            <Tolerance editing={editing} units={units} field={field} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Tolerance({ editing, units, field }: FormProps & { readonly field: ToleranceField }) {
  const path = `tolerances.${field.key}`;
  const isOwn = valueAt(editing.draft!.tree, path) !== undefined;
  return (
    <Disclosure
      isOpenAtFirst={isOwn}
      summary={
        <span className="house-adjustment">
          <span>{translate(`house.tolerance-${field.key}` as MessageKey)}</span>
          <span className="house-adjustment-kind">
            {isOwn ? translate('house.own-limit') : translate(`house.built-in-${field.key}` as MessageKey)}
          </span>
        </span>
      }
    >
      <div className="house-fields">
        {field.limits.map(({ key, quantity }) => (
          <HouseField
            key={key}
            editing={editing}
            units={units}
            path={`${path}.${key}`}
            quantity={quantity}
            isNeeded={isOwn}
          />
        ))}
        <HouseField editing={editing} units={units} path={`${path}.source`} quantity="text" isNeeded={isOwn} />
      </div>
      {isOwn && (
        <Button kind="quiet" onClick={() => editing.edit((before) => choose(before, path, undefined))}>
          {translate('house.built-in-again')}
        </Button>
      )}
    </Disclosure>
  );
}
