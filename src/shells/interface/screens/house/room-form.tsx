/** Screen and seats; projector and film. */
import { Choice } from '../../parts/choice.tsx';
import { Field } from '../../parts/field.tsx';
import { translate } from '../../../../wording/translate.ts';
import { choose, textAt, typeText, valueAt } from './draft.ts';
import { HouseField } from './quantity-field.tsx';
import type { HouseEditing } from './use-house-draft.ts';
import { formatQuantity, type Units } from './units.ts';
import { formatProblem, formatUnit } from './word-problem.ts';

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
    label: translate('house.inches', { distance }),
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
