/** From where errors are seen: for the map, and for the terms in arcminutes. */
import type { ReadingHouse } from '../../../../../record/reading.ts';
import { formatGiven } from '../../../../../wording/numbers.ts';
import { translate } from '../../../../../wording/translate.ts';
import { formatDistance, type Units } from '../../../../../wording/lengths.ts';
import { Choice, Field } from '../../../parts/field.tsx';
import { parseNumber, parseQuantity } from '../../house/units.ts';

interface SeatChoiceProps {
  readonly selection: SeatSelection;
  readonly house: ReadingHouse;
  readonly units: Units;
  readonly onChange: (selection: SeatSelection) => void;
}

export function SeatField({ selection, house, units, onChange }: SeatChoiceProps) {
  const unit = house.picture_height_mm === null ? 'picture-heights' : units === 'inch' ? 'feet' : 'metres';
  return (
    <div className="reading-seat">
      <Choice
        label={translate('reading.seat')}
        options={SEAT_CHOICES.map((value) => ({ value, label: nameSeatChoice(value, house, units) }))}
        value={selection.choice}
        onChange={(choice) => onChange({ ...selection, choice })}
        hint={house.assumed ? translate('reading.seats-assumed') : undefined}
      />
      {selection.choice === 'own' && (
        <Field
          label={translate('reading.own-distance')}
          kind="number"
          value={selection.own}
          unit={translate(`reading.${unit}`)}
          problem={
            distanceOfSeat(selection, house, units) === undefined
              ? translate('reading.own-distance-problem')
              : undefined
          }
          onChange={(own) => onChange({ ...selection, own })}
        />
      )}
    </div>
  );
}

/** "Nearest row, 6.5 m". */
export function nameSeatChoice(choice: SeatSelection['choice'], house: ReadingHouse, units: Units): string {
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

/** From where the picture is judged on this screen: one of the house's two seats, or a distance of one's own. */

const SEAT_CHOICES = ['nearest-row', 'reference-seat', 'own'] as const;
type SeatChoice = (typeof SEAT_CHOICES)[number];

export interface SeatSelection {
  readonly choice: SeatChoice;
  /** What was typed in: metres or feet, or picture heights where the screen's size is not known. */
  readonly own: string;
}

const NEAREST_IH = 0.3;
const FARTHEST_IH = 30;

/** Viewing distance in picture heights; undefined while what was typed is no sensible distance. */
export function distanceOfSeat({ choice, own }: SeatSelection, house: ReadingHouse, units: Units): number | undefined {
  if (choice === 'nearest-row') return house.nearest_row_ih;
  if (choice === 'reference-seat') return house.reference_seat_ih;
  const { picture_height_mm } = house;
  const typed = picture_height_mm === null ? parseNumber(own) : parseQuantity(own, 'room', units);
  if (typed === undefined) return undefined;
  const distance_ih = picture_height_mm === null ? typed : (1000 * typed) / picture_height_mm;
  return distance_ih >= NEAREST_IH && distance_ih <= FARTHEST_IH ? distance_ih : undefined;
}

/** The seat for which the reading has findings; null for a distance of one's own. */
export function seatOfFindings({ choice }: SeatSelection): 'nearest-row' | 'reference-seat' | null {
  return choice === 'own' ? null : choice;
}
