/**
 * From where the picture is judged: the nearest row, where every error looks largest, and a reference seat.
 *
 *   angle = atan(d / k)     d in picture heights on the screen, k viewing distance in picture heights
 *
 * The distance that counts is viewer to screen, not projector to screen.
 */
import type { Measured } from '../kernel/measured.ts';
import type { House } from '../record/house.ts';

export const SEATS = ['nearest-row', 'reference-seat'] as const;
export type Seat = (typeof SEATS)[number];

export interface Viewing {
  /** Width over height of the picture that was measured. */
  readonly aspect: number;
  /** Distance of each seat from the screen in picture heights. */
  readonly distance_ih: Readonly<Record<Seat, number>>;
  /** True where no House told the seats: 1.5 and 3 picture heights are then assumed. */
  readonly assumed: boolean;
}

/** Seats that are assumed without a House: a front row at 1.5, a middle seat at 3 picture heights. */
export const ASSUMED_DISTANCE_IH: Readonly<Record<Seat, number>> = { 'nearest-row': 1.5, 'reference-seat': 3 };

/** The viewing distances of a house; `aspect` is that of the measured picture. */
export function describeViewing(house: House | undefined, aspect: number): Viewing {
  if (!house) return { aspect, distance_ih: ASSUMED_DISTANCE_IH, assumed: true };
  const height_m = house.screen.picture_width_m / house.screen.picture_aspect;
  return {
    aspect,
    distance_ih: {
      'nearest-row': house.seats.nearest_row_m / height_m,
      'reference-seat': house.seats.reference_seat_m / height_m,
    },
    assumed: false,
  };
}

const ARCMIN_PER_RAD = (60 * 180) / Math.PI;

/** The angle, in arcminutes, under which a length on the screen (ih) is seen from `distance_ih`. */
export function angleAtSeat(length_ih: Measured, distance_ih: number): Measured {
  const tangent = length_ih.value / distance_ih;
  return {
    value: ARCMIN_PER_RAD * Math.atan(tangent),
    u: (ARCMIN_PER_RAD * length_ih.u) / (distance_ih * (1 + tangent * tangent)),
  };
}

/** The length on the screen, in ih, that is seen under `angle_arcmin` from `distance_ih`. */
export function lengthAtSeat(angle_arcmin: number, distance_ih: number): number {
  return distance_ih * Math.tan(angle_arcmin / ARCMIN_PER_RAD);
}
