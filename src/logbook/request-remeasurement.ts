/** What is asked of the measurement so that it gives a kept reading once more: the same photographs, names, house and parameters. */
import type { House } from '../record/house.ts';
import type { Remeasurement } from './verify-logbook.ts';

interface Wander {
  readonly x: number;
  readonly y: number;
}

export interface RemeasurementRequest {
  readonly leftPath: string;
  readonly rightPath: string;
  readonly leftName: string;
  readonly rightName: string;
  readonly closingPath?: string;
  readonly closingName?: string;
  readonly house?: House;
  readonly aspect?: number;
  readonly wander_px?: Wander;
  readonly closingWander_px?: Wander;
  readonly softwareVersion: string;
}

export function requestRemeasurement(
  { left, right, closing, house, parameters }: Remeasurement,
  softwareVersion: string,
): RemeasurementRequest {
  const { aspect, wander_px, closing_wander_px = null } = parameters;
  return {
    leftPath: left.path,
    rightPath: right.path,
    leftName: left.name,
    rightName: right.name,
    ...(closing && { closingPath: closing.path, closingName: closing.name }),
    ...(house && { house }),
    ...(aspect !== null && { aspect }),
    ...(wander_px && { wander_px }),
    ...(closing_wander_px && { closingWander_px: closing_wander_px }),
    softwareVersion,
  };
}
