/**
 * Points and directions in the house. Origin at the screen centre, x right and y up as seen from the audience, z out of
 * the screen towards the audience; unit = picture height (ih). The screen is the plane z = 0.
 */
export interface Vector {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

export function subtract(a: Vector, b: Vector): Vector {
  return { x: a.x - b.x, y: a.y - b.y, z: a.z - b.z };
}

export function dot(a: Vector, b: Vector): number {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}

export function cross(a: Vector, b: Vector): Vector {
  return { x: a.y * b.z - a.z * b.y, y: a.z * b.x - a.x * b.z, z: a.x * b.y - a.y * b.x };
}

export function unit(a: Vector): Vector {
  const length = Math.sqrt(dot(a, a));
  return { x: a.x / length, y: a.y / length, z: a.z / length };
}

/**
 * The upright axes of something that looks along `forward` (a unit vector): `right` level, `up` square to both.
 * Not defined for a look straight up or down.
 */
export function uprightAxes(forward: Vector): { readonly right: Vector; readonly up: Vector } {
  const right = unit(cross(forward, { x: 0, y: 1, z: 0 }));
  return { right, up: cross(right, forward) };
}
