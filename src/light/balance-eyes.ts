/**
 * The two eyes' pictures against each other: level, and colour where three channels were measured.
 *
 * Both are taken from photographs by the same camera from the same place with the same exposure, so its vignetting and
 * tone curve are the same for both and cancel; noise is left in the uncertainty, and how well two exposures agree. What the lenses of the glasses
 * take is in the comparison, and belongs there: it is what the eyes get.
 *
 *   level = exp( mean over the picture of ln L_right - ln L_left ),   colour = level_red / level_green and so on
 */
import type { Eye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Point } from '../kernel/point.ts';
import { LIGHT_PLACES, type LightPlace } from '../record/light-codes.ts';
import { placePoint } from './evenness.ts';
import { basisAt, evaluate, exponential, type LightSurface, termsOf } from './light-surface.ts';

export type Channel = 'red' | 'green' | 'blue';

export interface EyeLight {
  readonly luminance: LightSurface;
  readonly channels?: Readonly<Record<Channel, LightSurface>>;
}

export interface Balance {
  /** Right-eye picture's light over the left-eye picture's, mean over the picture and place by place. */
  readonly rightOverLeft: Measured;
  readonly places: Readonly<Record<LightPlace, Measured>>;
  /** How much redder or bluer, against green, the right-eye picture is: 1 is alike. Null without channels. */
  readonly colour: { readonly red: Measured; readonly blue: Measured } | null;
}

/**
 * `exposureU`: what the exposures of the two photographs may differ by, as a part; 0 for one photograph of both.
 *
 * @example
 * balanceEyes({ left, right }).rightOverLeft; // 1 where both eyes get the same light
 */
export function balanceEyes(eyes: Readonly<Record<Eye, EyeLight>>, exposureU = 0): Balance {
  const { left, right } = eyes;
  const places = LIGHT_PLACES.map((place) => {
    const at = placePoint(place, left.luminance.aspect);
    return [place, balanceAt(left.luminance, right.luminance, at, exposureU)];
  });
  return {
    rightOverLeft: widen(compare(left.luminance, right.luminance, meanRow), exposureU),
    places: Object.fromEntries(places) as Record<LightPlace, Measured>,
    colour: left.channels && right.channels ? compareColour(left.channels, right.channels) : null,
  };
}

/**
 * The light of the second surface over that of the first at a chart point.
 *
 * @example
 * balanceAt(leftSurface, rightSurface, { x: 0, y: 0 }); // right over left in the centre
 */
export function balanceAt(first: LightSurface, second: LightSurface, at: Point, exposureU = 0): Measured {
  return widen(
    compare(first, second, (surface) => basisAt(at, surface.aspect, surface.order)),
    exposureU,
  );
}

function widen({ value, u }: Measured, part: number): Measured {
  return { value, u: Math.hypot(u, part * value) };
}

function compareColour(
  left: Readonly<Record<Channel, LightSurface>>,
  right: Readonly<Record<Channel, LightSurface>>,
): NonNullable<Balance['colour']> {
  const level = (channel: Channel) => compare(left[channel], right[channel], meanRow);
  const green = level('green');
  const against = ({ value, u }: Measured): Measured => {
    const ratio = value / green.value;
    return { value: ratio, u: ratio * Math.hypot(u / value, green.u / green.value) };
  };
  return { red: against(level('red')), blue: against(level('blue')) };
}

function compare(
  left: LightSurface,
  right: LightSurface,
  rowOf: (surface: LightSurface) => readonly number[],
): Measured {
  const [l, r] = [evaluate(left, rowOf(left), 'noise'), evaluate(right, rowOf(right), 'noise')];
  return exponential({ value: r.value - l.value, u: Math.hypot(l.u, r.u) });
}

/** The mean of each term over the picture: 1 / (i + 1) for even exponents, zero for odd ones. */
function meanRow({ order }: LightSurface): number[] {
  return termsOf(order).map(([i, j]) => (i % 2 === 0 && j % 2 === 0 ? 1 / ((i + 1) * (j + 1)) : 0));
}
