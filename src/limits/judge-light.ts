/**
 * Judges light against what standards and practice ask of it.
 *
 *   within     the whole 95 % interval, value - 2u to value + 2u, lies between the bounds
 *   outside    the whole interval lies beyond one of them
 *   undecided  a bound lies inside the interval
 *
 * Evenness is judged by its darkest place; a luminance only where it was read as the limit means it.
 */
import { type Measured, scaleMeasured } from '../kernel/measured.ts';
import type { Balance } from '../light/balance-eyes.ts';
import type { Evenness, PlaceName } from '../light/evenness.ts';
import { type LightLimit, type LightLimitBasis, type LightLimitCode, lightLimit } from './light-limits.ts';
import type { Verdict } from './judge.ts';

/** `left-eye`, `right-eye`: from the target. The others: the whole light of an open gate, through a lens or none. */
export const LIT_PICTURES = ['left-eye', 'right-eye', 'left-lens', 'right-lens', 'bare'] as const;
export type LitPicture = (typeof LIT_PICTURES)[number];

export interface LightFinding {
  readonly code: LightLimitCode;
  /** Null where it is of both eyes, or of no photograph. */
  readonly picture: LitPicture | null;
  readonly place: PlaceName | null;
  readonly verdict: Verdict;
  readonly value: number;
  readonly u: number;
  /** The bound that is nearer to the value. */
  readonly limit: number;
  readonly side: 'at-least' | 'at-most';
  readonly unit: 'pct' | 'cd_m2';
  readonly source: string;
  readonly basis: LightLimitBasis;
  readonly confirmed: boolean;
}

export interface JudgedPicture {
  readonly picture: LitPicture;
  readonly evenness: Evenness;
  /** Luminance in the centre as a meter read it, where it was read as a limit means it. */
  readonly centre: { readonly limit: 'centre-film-open-gate' | 'at-the-eye'; readonly cd_m2: Measured } | null;
}

export function judgeEvenness(pictures: readonly JudgedPicture[], balance: Balance | null): LightFinding[] {
  return [
    ...pictures.flatMap(({ picture, evenness: { least }, centre }) => [
      judgeLimit('edge-film', least.ofCentre, picture, least.place),
      ...(centre ? [judgeLimit(centre.limit, centre.cd_m2, picture, 'centre')] : []),
    ]),
    ...(balance ? judgeBalance(balance.rightOverLeft) : []),
  ];
}

/** What the darker eye's picture lacks, as a part of the brighter one. */
export function imbalanceOf({ value, u }: Measured): Measured {
  const darker = value < 1 ? value : 1 / value;
  return { value: 1 - darker, u: value < 1 ? u : u / value ** 2 };
}

function judgeBalance(rightOverLeft: Measured): LightFinding[] {
  const imbalance = imbalanceOf(rightOverLeft);
  return [judgeLimit('balance-comfort', imbalance, null, null), judgeLimit('balance-depth', imbalance, null, null)];
}

/** A luminance in cd/m2 or a part; parts are given in percent. */
export function judgeLimit(
  code: LightLimitCode,
  measured: Measured,
  picture: LitPicture | null,
  place: PlaceName | null,
): LightFinding {
  const limit = lightLimit(code);
  const isLuminance = limit.quantity === 'luminance_cd_m2';
  const scale = isLuminance ? 1 : 100;
  const side = nearerSide(limit, measured.value);
  return {
    code,
    picture,
    place,
    verdict: verdictOf(limit, measured),
    ...scaleMeasured(measured, scale),
    limit: scale * (side === 'at-least' ? limit.least : limit.most!),
    side,
    unit: isLuminance ? 'cd_m2' : 'pct',
    source: limit.source,
    basis: limit.basis,
    confirmed: limit.basis !== 'from-memory',
  };
}

function verdictOf({ quantity, least, most }: LightLimit, { value, u }: Measured): Verdict {
  // What lacks nothing lies at the lower bound itself, which is no limit there.
  const low = quantity === 'part_of_brighter_eye' ? Number.NEGATIVE_INFINITY : least;
  const high = most ?? Number.POSITIVE_INFINITY;
  const [from, to] = [value - 2 * u, value + 2 * u];
  if (from >= low && to <= high) return 'within';
  return to < low || from > high ? 'outside' : 'undecided';
}

function nearerSide({ quantity, least, most }: LightLimit, value: number): LightFinding['side'] {
  if (quantity === 'part_of_brighter_eye') return 'at-most';
  return most !== null && value > (least + most) / 2 ? 'at-most' : 'at-least';
}
