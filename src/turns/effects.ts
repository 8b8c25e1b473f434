/**
 * What an adjustment does to the pictures, from first-order optics.
 *
 *   tilted mirror      2 D p / (a H) per turn       screw pitch p, lever a, throw D, picture height H: a mirror tilted by
 *                                                   delta turns the ray by 2 delta
 *   shifted lens       p (M + 1) / H per turn       magnification M = W / film width; film fixed
 *   turned deviation   (R(t) - R(t0)) v             whatever deviates a picture by v on the screen, turned as a whole from
 *                                                   t0 to t; R turns counter-clockwise on the screen
 *
 * A thin wedge deviates by (n - 1) A. The attachment deviates the upper port's picture by S/2 down and the lower one's
 * by S/2 up (S = cc / h), because without it they would fall S apart, the upper port's above.
 *
 * Signs of the turned attachment. Clockwise is meant looking from the audience towards the projector; who looks the
 * other way, at the screen, sees the same turn go counter-clockwise. So a clockwise turn by phi takes the upper
 * picture's deviation from (0, -S/2) to (S/2)(sin phi, -cos phi): that picture moves right by S/2 sin phi and up by
 * S/2 (1 - cos phi), the lower one left and down by as much. With the right-eye picture through the upper port, a
 * clockwise turn thus increases right minus left by S sin phi sideways and by S (1 - cos phi) vertically; with the
 * left-eye picture there it decreases both. Two mirrors in turn leave a picture upright, so there is no roll.
 *
 * Sources: Smith, Modern Optical Engineering, p. 93 (thin wedge); the tilted mirror is the law of reflection.
 */
import { separatePictures } from '../geometry/film-frame.ts';
import { TERMS, type Term, type TermVector } from '../geometry/misalignment.ts';
import type { Eye } from '../kernel/eye.ts';
import type { Point } from '../kernel/point.ts';
import type { House } from '../record/house.ts';
import type { KnownAdjustment, MovedPicture, ScreenDirection, StatedEffect } from '../record/house-adjustments.ts';

const RAD_PER_DEG = Math.PI / 180;

/** What the effects depend on; lengths on the screen in ih. */
export interface Optics {
  readonly throw_ih: number;
  readonly pictureHeight_mm: number;
  /** Screen over film, M. */
  readonly magnification: number;
  /** S: how far apart the pictures would fall without the attachment. */
  readonly separation_ih: number;
  readonly upperPortShows: Eye;
}

/**
 * Throw and film of a house in picture heights.
 *
 * @example
 * const movement = describeMovement(screw, describeOptics(house));
 */
export function describeOptics(house: House): Optics {
  const { picture_width_m, picture_aspect } = house.screen;
  const pictureHeight_mm = (1000 * picture_width_m) / picture_aspect;
  return {
    throw_ih: (1000 * house.throw_m) / pictureHeight_mm,
    pictureHeight_mm,
    magnification: (1000 * picture_width_m) / house.film.picture_width_mm,
    separation_ih: separatePictures(house.film, picture_aspect),
    upperPortShows: house.attachment?.upper_port_shows ?? 'right',
  };
}

/** How far a picture moves when its mirror is tilted by a small angle: 2 D delta, in the unit of the throw. */
export function shiftByMirror(tilt_rad: number, throwDistance: number): number {
  return 2 * throwDistance * tilt_rad;
}

/** How far a picture moves when its lens is shifted across the axis: s (M + 1), in the unit of the shift. */
export function shiftByLens(shift: number, magnification: number): number {
  return shift * (magnification + 1);
}

/** The angle by which a thin wedge deviates a ray: (n - 1) A. */
export function deviateByWedge_rad(wedge_rad: number, refractiveIndex: number): number {
  return (refractiveIndex - 1) * wedge_rad;
}

/** What an adjustment does, for any number of turns from where it stands. */
export type Movement =
  | { readonly kind: 'proportional'; readonly perTurn: Readonly<Record<Eye, TermVector>> }
  | {
      readonly kind: 'turned-deviation';
      /** On the screen when the part stands in the middle of its travel, ih. */
      readonly deviation: Readonly<Record<Eye, Point>>;
      /** Present angle from the middle, counter-clockwise on the screen. */
      readonly start_rad: number;
      readonly radPerTurn: number;
      /** What rounds have shown beside it, per turn. */
      readonly beside?: Readonly<Record<Eye, TermVector>>;
    };

export function describeMovement(adjustment: KnownAdjustment, optics: Optics): Movement {
  switch (adjustment.kind) {
    case 'mirror-tilt': {
      const shift = shiftByMirror(adjustment.pitch_mm / adjustment.lever_mm, optics.throw_ih);
      return proportional(adjustment.moves, shiftTerms(adjustment.clockwise_moves, shift));
    }
    case 'lens-shift': {
      const shift = shiftByLens(adjustment.pitch_mm, optics.magnification) / optics.pictureHeight_mm;
      return proportional(adjustment.moves, shiftTerms(adjustment.clockwise_moves, shift));
    }
    case 'stated':
      return proportional(adjustment.moves, statedTerms(adjustment.effect_per_turn));
    case 'attachment-rotation':
      return turnedAttachment(optics, RAD_PER_DEG * (adjustment.position_deg ?? 0), 2 * Math.PI);
    case 'attachment-screw': {
      const radPerTurn = RAD_PER_DEG * adjustment.clockwise_turns_deg;
      return turnedAttachment(optics, radPerTurn * (adjustment.position_turns ?? 0), radPerTurn);
    }
    case 'wedge-rotation': {
      const wedge = deviateByWedge_rad(RAD_PER_DEG * adjustment.wedge_deg, adjustment.refractive_index);
      const length = optics.throw_ih * Math.tan(wedge);
      const towards = DIRECTIONS[adjustment.clockwise_moves];
      // Turned counter-clockwise on the screen, the deviation's tip moves a quarter turn ahead of the deviation.
      const deviation = { x: length * towards.y, y: -length * towards.x };
      const still = { x: 0, y: 0 };
      return {
        kind: 'turned-deviation',
        deviation: adjustment.moves === 'left' ? { left: deviation, right: still } : { left: still, right: deviation },
        start_rad: RAD_PER_DEG * (adjustment.position_deg ?? 0),
        radPerTurn: 2 * Math.PI,
      };
    }
  }
}

/** How each picture moves when the adjustment is turned from where it stands; clockwise positive. */
export function movePictures(movement: Movement, turns: number): Record<Eye, TermVector> {
  if (movement.kind === 'proportional') {
    const { left, right } = movement.perTurn;
    return { left: scaleTerms(left, turns), right: scaleTerms(right, turns) };
  }
  const { deviation, start_rad, radPerTurn } = movement;
  const end_rad = start_rad + radPerTurn * turns;
  const moved = (eye: Eye) => {
    const [from, to] = [rotate(deviation[eye], start_rad), rotate(deviation[eye], end_rad)];
    return addBeside(movement, eye, turns, { horizontalOffset: to.x - from.x, verticalOffset: to.y - from.y });
  };
  return { left: moved('left'), right: moved('right') };
}

/**
 * The derivative of `movePictures` by the turns.
 *
 * @example
 * const perTurn = changeMisalignment(rateOfMotion(movement, 0));
 */
export function rateOfMotion(movement: Movement, turns: number): Record<Eye, TermVector> {
  if (movement.kind === 'proportional') return movement.perTurn;
  const { deviation, start_rad, radPerTurn } = movement;
  const rate = (eye: Eye) => {
    const { x, y } = rotate(deviation[eye], start_rad + radPerTurn * turns);
    return addBeside(movement, eye, 1, { horizontalOffset: -radPerTurn * y, verticalOffset: radPerTurn * x });
  };
  return { left: rate('left'), right: rate('right') };
}

function addBeside(
  { beside }: Extract<Movement, { kind: 'turned-deviation' }>,
  eye: Eye,
  turns: number,
  motion: Partial<TermVector>,
): TermVector {
  const own = termVector(motion);
  return beside ? addTerms(own, scaleTerms(beside[eye], turns)) : own;
}

/**
 * The movement with what rounds have shown beside it: `deviation` of right minus left per clockwise turn, carried by the
 * picture that moves.
 *
 * @example
 * const learned = withDeviation(describeMovement(adjustment, optics), 'right', deviation);
 */
export function withDeviation(movement: Movement, moves: MovedPicture, deviation: TermVector): Movement {
  const share: Readonly<Record<Eye, number>> =
    moves === 'apart' ? { left: -0.5, right: 0.5 } : moves === 'left' ? { left: -1, right: 0 } : { left: 0, right: 1 };
  const of = (eye: Eye, before: TermVector | undefined) =>
    before ? addTerms(before, scaleTerms(deviation, share[eye])) : scaleTerms(deviation, share[eye]);
  if (movement.kind === 'proportional') {
    const { left, right } = movement.perTurn;
    return { kind: 'proportional', perTurn: { left: of('left', left), right: of('right', right) } };
  }
  const { beside } = movement;
  return { ...movement, beside: { left: of('left', beside?.left), right: of('right', beside?.right) } };
}

/** An adjustment of which nothing is known. */
export const NO_MOVEMENT: Movement = {
  kind: 'proportional',
  perTurn: { left: termVector({}), right: termVector({}) },
};

/**
 * What the motion of both pictures does to the misalignment: right minus left.
 *
 * @example
 * const change = changeMisalignment(movePictures(movement, 0.25));
 */
export function changeMisalignment({ left, right }: Record<Eye, TermVector>): TermVector {
  return termVector(Object.fromEntries(TERMS.map((term) => [term, right[term] - left[term]])));
}

export function termVector(some: Partial<TermVector>): TermVector {
  return Object.fromEntries(TERMS.map((term) => [term, some[term] ?? 0])) as Record<Term, number>;
}

const DIRECTIONS: Readonly<Record<ScreenDirection, Point>> = {
  up: { x: 0, y: 1 },
  down: { x: 0, y: -1 },
  left: { x: -1, y: 0 },
  right: { x: 1, y: 0 },
};

function shiftTerms(direction: ScreenDirection, shift: number): TermVector {
  const { x, y } = DIRECTIONS[direction];
  return termVector({ horizontalOffset: shift * x, verticalOffset: shift * y });
}

function statedTerms(effect: StatedEffect): TermVector {
  const fraction = (pct: number | undefined) => (pct ?? 0) / 100;
  return {
    verticalOffset: fraction(effect.vertical_pct),
    horizontalOffset: fraction(effect.horizontal_pct),
    rotation: RAD_PER_DEG * (effect.rotation_deg ?? 0),
    size: fraction(effect.size_pct),
    stretch: fraction(effect.stretch_pct),
    shear: fraction(effect.shear_pct),
    keystoneH: fraction(effect.keystone_h_pct),
    keystoneV: fraction(effect.keystone_v_pct),
  };
}

function proportional(moves: MovedPicture, effect: TermVector): Movement {
  const share = (eye: Eye) => (moves === 'apart' ? (eye === 'right' ? 0.5 : -0.5) : moves === eye ? 1 : 0);
  return {
    kind: 'proportional',
    perTurn: { left: scaleTerms(effect, share('left')), right: scaleTerms(effect, share('right')) },
  };
}

function turnedAttachment(optics: Optics, start_rad: number, radPerTurn: number): Movement {
  const down = { x: 0, y: -optics.separation_ih / 2 };
  const up = { x: 0, y: optics.separation_ih / 2 };
  const deviation = optics.upperPortShows === 'right' ? { left: up, right: down } : { left: down, right: up };
  return { kind: 'turned-deviation', deviation, start_rad, radPerTurn };
}

function addTerms(a: TermVector, b: TermVector): TermVector {
  return termVector(Object.fromEntries(TERMS.map((term) => [term, a[term] + b[term]])));
}

function scaleTerms(terms: TermVector, factor: number): TermVector {
  return termVector(Object.fromEntries(TERMS.map((term) => [term, terms[term] * factor])));
}

function rotate({ x, y }: Point, angle_rad: number): Point {
  const [cos, sin] = [Math.cos(angle_rad), Math.sin(angle_rad)];
  return { x: cos * x - sin * y, y: sin * x + cos * y };
}
