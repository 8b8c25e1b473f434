/** From where errors are seen: for the map, and for the terms in arcminutes. */
import type { ReadingHouse } from '../../../../../record/reading.ts';
import { formatGiven } from '../../../../../wording/numbers.ts';
import { Choice } from '../../../parts/choice.tsx';
import { Field } from '../../../parts/field.tsx';
import { formatDistance, type Units } from '../../../lengths.ts';
import { translate } from '../../../../../wording/translate.ts';
import { distanceOfSeat, SEAT_CHOICES, type SeatOrder } from '../seat.ts';

export interface SeatChoiceProps {
  readonly order: SeatOrder;
  readonly house: ReadingHouse;
  readonly units: Units;
  readonly onChange: (order: SeatOrder) => void;
}

export function SeatChoice({ order, house, units, onChange }: SeatChoiceProps) {
  const unit = house.picture_height_mm === null ? 'picture-heights' : units === 'inch' ? 'feet' : 'metres';
  return (
    <div className="reading-seat">
      <Choice
        label={translate('reading.seat')}
        options={SEAT_CHOICES.map((value) => ({ value, label: nameSeatChoice(value, house, units) }))}
        value={order.choice}
        onChange={(choice) => onChange({ ...order, choice })}
        hint={house.assumed ? translate('reading.seats-assumed') : undefined}
      />
      {order.choice === 'own' && (
        <Field
          label={translate('reading.own-distance')}
          kind="number"
          value={order.own}
          unit={translate(`reading.${unit}`)}
          problem={
            distanceOfSeat(order, house, units) === undefined ? translate('reading.own-distance-problem') : undefined
          }
          onChange={(own) => onChange({ ...order, own })}
        />
      )}
    </div>
  );
}

/** "Nearest row, 6.5 m". */
export function nameSeatChoice(choice: SeatOrder['choice'], house: ReadingHouse, units: Units): string {
  if (choice === 'own') return translate('reading.seat-own');
  const [metres, heights] =
    choice === 'nearest-row'
      ? [house.nearest_row_m, house.nearest_row_ih]
      : [house.reference_seat_m, house.reference_seat_ih];
  return translate('reading.seat-at', {
    seat: choice === 'nearest-row' ? 'nearest' : 'reference',
    distance:
      metres === null
        ? `${formatGiven(heights)} ${translate('reading.picture-heights')}`
        : formatDistance(metres, units),
  });
}
