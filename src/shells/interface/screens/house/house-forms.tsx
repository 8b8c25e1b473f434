/** Screen and seats; projector and film. */
import type { ReactNode } from 'react';
import { isMessageKey, type MessageKey, translate } from '../../../../wording/translate.ts';
import { Button } from '../../parts/button.tsx';
import { Disclosure } from '../../parts/dialog.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { choose, formatProblem, formatUnit, type Path, textAt, typeText, valueAt } from './house-draft.ts';
import { TOLERANCE_FIELDS, type ToleranceField } from './house-fields.ts';
import { formatQuantity, type Quantity, type Units } from './units.ts';
import type { HouseEditing } from './use-house-draft.ts';

export interface FormProps {
  readonly editing: HouseEditing;
  readonly units: Units;
}

export function ScreenAndSeats({ editing, units }: FormProps) {
  const shared = { editing, units };
  return (
    <section className="house-group">
      <h2>{translate('house.screen-and-seats')}</h2>
      <div className="house-fields">
        <HouseField {...shared} path="name" quantity="text" isNeeded />
        <HouseField {...shared} path="screen.picture_width_m" quantity="room" isNeeded />
        <HouseField {...shared} path="screen.picture_aspect" quantity="plain" usual="2.35" />
        <HouseField {...shared} path="seats.nearest_row_m" quantity="room" isNeeded />
        <HouseField {...shared} path="seats.reference_seat_m" quantity="room" isNeeded />
        <HouseField {...shared} path="seats.count" quantity="count" />
      </div>
      <HouseField {...shared} path="note" quantity="long-text" />
    </section>
  );
}

export function ProjectorAndFilm({ editing, units }: FormProps) {
  const shared = { editing, units };
  return (
    <section className="house-group">
      <h2>{translate('house.projector-and-film')}</h2>
      <div className="house-fields">
        <HouseField {...shared} path="throw_m" quantity="room" isNeeded />
        <CentreToCentre {...shared} />
        <HouseField
          {...shared}
          path="film.picture_width_mm"
          quantity="machine"
          usual={formatQuantity(20.95, 'machine', units)}
          word="film_width_mm"
        />
        <HouseField {...shared} path="film.picture_height_mm" quantity="machine" word="film_height_mm" />
      </div>
    </section>
  );
}

const DISTANCE = 'film.centre_to_centre_in';
/** The three distances in use: common practice, no published source. */
const DISTANCES_IN = [0.387, 0.375, 0.363] as const;

function CentreToCentre({ editing, units }: FormProps) {
  const draft = editing.draft!;
  const value = valueAt(draft.tree, DISTANCE);
  const problem = editing.checked?.problems.get(DISTANCE);
  const isMissing = problem?.code === 'missing';
  const options = DISTANCES_IN.map((distance) => ({
    value: String(distance),
    label: translate('house.inches', { distance: distance.toFixed(3) }),
  }));
  return (
    <div className="house-distance">
      <Choice
        label={translate('house.field-centre_to_centre_in')}
        options={options}
        value={String(value)}
        onChange={(distance) => editing.edit((before) => setDistance(before, Number(distance)))}
      />
      <Field
        label={translate('house.field-as-measured')}
        kind="number"
        value={textAt(draft, DISTANCE, 'film', units)}
        unit={formatUnit('film', units)}
        onChange={(text) => editing.edit((before) => typeText(before, DISTANCE, text, 'film', units))}
        isOptional={isMissing ? translate('house.needed') : undefined}
        problem={problem && !isMissing ? formatProblem(problem, 'film', units) : undefined}
        hint={translate('house.hint-centre_to_centre_in')}
      />
    </div>
  );
}

const setDistance = (draft: Parameters<typeof choose>[0], distance_in: number) => choose(draft, DISTANCE, distance_in);

/** Limits of the house in place of the built-in ones; each says where it comes from. */

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

/** A field of the House: its words, its unit, what is wrong with it, and what is allowed. */

interface HouseFieldProps {
  readonly editing: HouseEditing;
  readonly units: Units;
  readonly path: Path;
  readonly quantity: Quantity | 'text' | 'long-text';
  /** The end of its keys in the wording; the last part of the path where left out. */
  readonly word?: string;
  readonly isNeeded?: boolean;
  /** What holds while the field is empty. */
  readonly usual?: string;
  readonly hint?: ReactNode;
  /** What no longer holds once this field is written by hand. */
  readonly forgets?: Path;
}

export function HouseField({ editing, units, path, quantity, word, isNeeded, usual, hint, forgets }: HouseFieldProps) {
  const draft = editing.draft!;
  const problem = editing.checked?.problems.get(path);
  const ending = word ?? path.split('.').at(-1)!;
  const plain = quantity === 'long-text' ? 'text' : quantity;
  const hintKey = `house.hint-${ending}`;
  const isMissing = problem?.code === 'missing';
  return (
    <Field
      label={translate(`house.field-${ending}` as MessageKey)}
      value={textAt(draft, path, plain, units)}
      onChange={(text) =>
        editing.edit((before) => {
          const kept = forgets === undefined ? before : choose(before, forgets, undefined);
          return typeText(kept, path, text, plain, units);
        })
      }
      kind={quantity === 'text' || quantity === 'long-text' ? quantity : 'number'}
      unit={plain === 'text' ? undefined : formatUnit(plain, units)}
      placeholder={usual}
      isOptional={isMissing ? translate('house.needed') : isNeeded ? undefined : translate('house.optional')}
      problem={problem === undefined || isMissing ? undefined : formatProblem(problem, plain, units)}
      hint={hint ?? (isMessageKey(hintKey) ? translate(hintKey) : undefined)}
    />
  );
}
