/** From where the picture is judged on this screen: one of the house's two seats, or a distance of one's own. */
import type { ReadingHouse } from '../../../../record/reading.ts';
import type { Units } from '../../lengths.ts';
import { parseNumber, parseQuantity } from '../house/units.ts';

export const SEAT_CHOICES = ['nearest-row', 'reference-seat', 'own'] as const;
export type SeatChoice = (typeof SEAT_CHOICES)[number];

export interface SeatOrder {
  readonly choice: SeatChoice;
  /** What was typed in: metres or feet, or picture heights where the screen's size is not known. */
  readonly own: string;
}

const NEAREST_IH = 0.3;
const FARTHEST_IH = 30;

/** Viewing distance in picture heights; undefined while what was typed is no sensible distance. */
export function distanceOfSeat({ choice, own }: SeatOrder, house: ReadingHouse, units: Units): number | undefined {
  if (choice === 'nearest-row') return house.nearest_row_ih;
  if (choice === 'reference-seat') return house.reference_seat_ih;
  const { picture_height_mm } = house;
  const typed = picture_height_mm === null ? parseNumber(own) : parseQuantity(own, 'room', units);
  if (typed === undefined) return undefined;
  const distance_ih = picture_height_mm === null ? typed : (1000 * typed) / picture_height_mm;
  return distance_ih >= NEAREST_IH && distance_ih <= FARTHEST_IH ? distance_ih : undefined;
}

/** The seat for which the reading has findings; null for a distance of one's own. */
export function seatOfFindings({ choice }: SeatOrder): 'nearest-row' | 'reference-seat' | null {
  return choice === 'own' ? null : choice;
}
