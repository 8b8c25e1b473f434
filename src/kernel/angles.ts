/**
 * Angles and their units.
 *
 * Inside the program an angle is in radians unless its name says otherwise. An offset v across the line of sight at the
 * distance d is seen at the angle atan(v / d), whatever unit v and d share; the sign of v is kept.
 *
 * The prism dioptre is the optician's unit for the turning of a line of sight: 100 tan(angle), so that 1 PD is 1 cm at 1 m.
 */

/**
 * @example
 * radiansFromDegrees(180); // 3.14159
 */
export function radiansFromDegrees(degrees: number): number {
  return (degrees * Math.PI) / 180;
}

/**
 * @example
 * degreesFromRadians(Math.PI); // 180
 */
export function degreesFromRadians(radians: number): number {
  return (radians * 180) / Math.PI;
}

export function radiansFromArcminutes(arcminutes: number): number {
  return radiansFromDegrees(arcminutes / 60);
}

export function arcminutesFromRadians(radians: number): number {
  return 60 * degreesFromRadians(radians);
}

/**
 * The angle in arcminutes at which an offset is seen. Throws a RangeError unless the distance is positive.
 *
 * @example
 * arcminutesFromOffset(0.001, 3.39); // 1.014: a thousandth of the picture height from 15 m in the Meridian
 */
export function arcminutesFromOffset(offset: number, distance: number): number {
  requireDistance(distance);
  return arcminutesFromRadians(Math.atan(offset / distance));
}

/**
 * The offset that is seen at an angle, in the unit of the distance.
 *
 * @example
 * offsetFromArcminutes(8.6, 15_000); // 37.5, in mm as the distance
 */
export function offsetFromArcminutes(arcminutes: number, distance: number): number {
  requireDistance(distance);
  return distance * Math.tan(radiansFromArcminutes(arcminutes));
}

/** Prism dioptres of an offset: 100 v / d. Throws a RangeError unless the distance is positive. */
export function prismDioptresFromOffset(offset: number, distance: number): number {
  requireDistance(distance);
  return (100 * offset) / distance;
}

export function prismDioptresFromRadians(radians: number): number {
  return 100 * Math.tan(radians);
}

export function radiansFromPrismDioptres(prismDioptres: number): number {
  return Math.atan(prismDioptres / 100);
}

function requireDistance(distance: number): void {
  if (!(distance > 0)) throw new RangeError(`an offset seen from the distance ${distance}`);
}
