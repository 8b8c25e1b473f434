/**
 * The simulated projector: where the two eyes' pictures fall on the screen, exactly.
 *
 *   screenFromChart(eye) = screenFromPicture * weave * displacement(eye)
 *
 * `screenFromPicture` is a pinhole projection from the port to the plane screen and carries the keystone of the rake,
 * the same for both eyes. `displacement(eye)` is the attachment's error.
 *
 * Keystone check: with the rake th and the half angle al of the picture height, the far edge is wider than the near one
 * by (1 + tan th tan al) / (1 - tan th tan al).
 */
import type { Eye } from '../kernel/eye.ts';
import { compose, type Homography } from '../kernel/homography.ts';
import type { Point } from '../kernel/point.ts';
import { type Film, heightInFrame } from './film-motion.ts';
import { subtract, unit, uprightAxes, type Vector } from './space.ts';
import { displacement, type SceneTerms, scaleTerms } from './terms.ts';

export interface Projector {
  /** From the lens to the screen centre, ih. */
  readonly throw_ih: number;
  /** The beam comes down on the screen by this angle from its normal; a port above the screen centre is positive. */
  readonly portRake_deg: number;
  /** The beam comes in from the side by this angle; a port to the right as seen from the audience is positive. */
  readonly portSide_deg: number;
  /** Right-eye picture minus left-eye picture. */
  readonly misalignment: SceneTerms;
  /** Whether both pictures are off by half, or the right-eye picture alone by all of it. */
  readonly carriedBy: 'both' | 'right';
  /** The film runs with its other side to the lamp: both pictures are mirrored. */
  readonly filmTurnedOver?: boolean;
}

/** What the lens does to one eye's picture. */
export interface ProjectionLens {
  /** How far it moves the frame's farthest corner outwards, percent of that corner's distance; pincushion is positive. */
  readonly distortion_pct: Readonly<Record<Eye, number>>;
  /** Where the axis stands for each picture, from the middle of the frame. */
  readonly axis_ih?: Readonly<Record<Eye, Point>>;
}

/**
 * A mirror whose surface is not plane moves the picture by the slope of a figure W(x, y) of third and fourth order; what is
 * lower is focus, tilt and astigmatism, which the misalignment's terms hold.
 *
 *   (dx, dy) = grad W,   W = sum of a_ij (x / half width)^i (2 y)^j,  in the order x^3, x^2 y, x y^2, y^3, x^4, x^2 y^2, y^4
 */
export type MirrorFigure = readonly [number, number, number, number, number, number, number];

const FIGURE_POWERS = [
  [3, 0],
  [2, 1],
  [1, 2],
  [0, 3],
  [4, 0],
  [2, 2],
  [0, 4],
] as const;

export function projectorPosition(projector: Projector): Vector {
  const rake = (projector.portRake_deg * Math.PI) / 180;
  const side = (projector.portSide_deg * Math.PI) / 180;
  const { throw_ih } = projector;
  return {
    x: throw_ih * Math.cos(rake) * Math.sin(side),
    y: throw_ih * Math.sin(rake),
    z: throw_ih * Math.cos(rake) * Math.cos(side),
  };
}

/** Unit vectors along the beam and along the straight picture's x and y. */
export function projectorAxes(projector: Projector): {
  readonly forward: Vector;
  readonly right: Vector;
  readonly up: Vector;
} {
  const forward = unit(subtract({ x: 0, y: 0, z: 0 }, projectorPosition(projector)));
  // Seen from the audience, so that x runs to the audience's right: the projector looks at the screen as they do.
  return { forward, ...uprightAxes(forward) };
}

/**
 * From the straight picture to the screen: the ray of the picture point (x, y) leaves the port along
 * D forward + x right + y up and is cut with the screen plane.
 */
export function screenFromPicture(projector: Projector): Homography {
  const port = projectorPosition(projector);
  const { forward, right, up } = projectorAxes(projector);
  const d = projector.throw_ih;
  // A ray point is port + s (d forward + x right + y up); on the screen its z is 0, so s = -port.z / rayZ.
  const row = (axis: 'x' | 'y'): [number, number, number] => [
    port[axis] * right.z - port.z * right[axis],
    port[axis] * up.z - port.z * up[axis],
    port[axis] * d * forward.z - port.z * d * forward[axis],
  ];
  return normaliseRows(row('x'), row('y'), [right.z, up.z, d * forward.z]);
}

function normaliseRows(
  a: readonly [number, number, number],
  b: readonly [number, number, number],
  c: readonly [number, number, number],
): Homography {
  const s = c[2];
  return [a[0] / s, a[1] / s, a[2] / s, b[0] / s, b[1] / s, b[2] / s, c[0] / s, c[1] / s, 1];
}

/** How far this eye's picture is off: half of the misalignment each way, or all of it in the right eye. */
export function eyeDisplacement(projector: Projector, eye: Eye): Homography {
  const { misalignment, carriedBy } = projector;
  if (carriedBy === 'right') return displacement(scaleTerms(misalignment, eye === 'right' ? 1 : 0));
  return displacement(scaleTerms(misalignment, eye === 'right' ? 0.5 : -0.5));
}

const MIRRORED: Homography = [-1, 0, 0, 0, 1, 0, 0, 0, 1];

/** `weave` is the film's place in the gate at this shot, ih on the screen; it moves both pictures alike. */
export function screenFromChart(projector: Projector, eye: Eye, weave: Point = { x: 0, y: 0 }): Homography {
  const weaved = compose([1, 0, weave.x, 0, 1, weave.y, 0, 0, 1], eyeDisplacement(projector, eye));
  const fromChart = compose(screenFromPicture(projector), weaved);
  return projector.filmTurnedOver ? compose(fromChart, MIRRORED) : fromChart;
}

/** Where the lens brings a point of the straight picture. */
export function bendByLens(lens: ProjectionLens, film: Film, aspect: number, eye: Eye): (p: Point) => Point {
  const height = heightInFrame(film, eye);
  const axis = lens.axis_ih?.[eye] ?? { x: 0, y: 0 };
  const k = lens.distortion_pct[eye] / 100 / farthestCorner2(film, aspect);
  return (p) => {
    const [x, y] = [p.x - axis.x, p.y + height - axis.y];
    const factor = k * (x * x + y * y);
    return { x: p.x + factor * x, y: p.y + factor * y };
  };
}

function farthestCorner2(film: Film, aspect: number): number {
  return (aspect / 2) ** 2 + (Math.abs(heightInFrame(film, 'left')) + 0.5) ** 2;
}

/** Where the mirror brings a point of the picture. */
export function bendByMirror(figure: MirrorFigure, aspect: number): (p: Point) => Point {
  const power = (base: number, exponent: number) => (exponent < 0 ? 0 : base ** exponent);
  return (p) => {
    const [u, v] = [(2 * p.x) / aspect, 2 * p.y];
    let [dx, dy] = [0, 0];
    FIGURE_POWERS.forEach(([i, j], k) => {
      dx += ((2 * i) / aspect) * figure[k]! * power(u, i - 1) * power(v, j);
      dy += 2 * j * figure[k]! * power(u, i) * power(v, j - 1);
    });
    return { x: p.x + dx, y: p.y + dy };
  };
}
