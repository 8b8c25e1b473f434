/**
 * Null search: where the leak through a lens is least, from shots between which the polarizer or the glasses were
 * turned by known angles.
 *
 *   y(theta) = a - b cos 2(theta - theta0) = A + C cos 2 theta + S sin 2 theta
 *   theta0   = atan2(-S, -C) / 2,   least y = a - b
 *
 * y is the leak over signal q itself where only the polarizer of the leaking picture is turned (the signal stays), and
 * q / (1 + q) where the glasses are turned against both pictures: leak and signal then change, but their sum does not,
 * so that both are exactly of this form. The fit is linear in A, C and S. A known balance of the two pictures' light
 * fixes the scale (a = 1/2 for the glasses, a + b = 1 for a polarizer), which helps where the turns span little.
 *
 * The uncertainty of the turns enters through the slope of y, and what the shots scatter beyond all that raises every
 * uncertainty (Birge ratio). Turns are degrees, positive as the operator counts them; the null repeats every 180.
 *
 * Reference: law of Malus; GUM 5.1.2 for the propagation; Birge, Phys. Rev. 40 (1932) 207, for the ratio.
 */
import { degreesFromRadians, radiansFromDegrees } from '../kernel/angles.ts';
import { quadraticForm } from '../kernel/linear-algebra.ts';
import type { Measured } from '../kernel/measured.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { chiSquaredUpperTail } from '../kernel/statistics.ts';
import { solveWeighted, type WeightedRow, type WeightedSolution } from './solve-weighted.ts';

/** What is turned: the glasses (or the lens of them) before the camera, or the polarizer of the leaking picture alone. */
export type TurnedThing = 'glasses' | 'polarizer';

export interface TurnedShot {
  readonly turn_deg: number;
  /** Leak over signal in this shot, as a fraction. */
  readonly leak: Measured;
}

export interface NullSearch {
  readonly turned: TurnedThing;
  /** The last one is how things stand now. */
  readonly shots: readonly TurnedShot[];
  /** Standard uncertainty of each turn by itself. */
  readonly turnU_deg?: number;
  /** Leaking picture's light over the other one's before all polarizers, where it is known. */
  readonly balance?: Measured;
}

/** y(theta) = mean - depth cos 2(theta - null), and what makes it a leak over signal again. */
export interface LeakCurve {
  readonly turned: TurnedThing;
  readonly mean: number;
  readonly depth: number;
  readonly balance: number;
}

export interface NullFit {
  readonly curve: LeakCurve;
  /** Leak over signal at the null; noise may take it below zero. */
  readonly leastLeak: Measured;
  readonly chiSquared: number;
  readonly redundancy: number;
  /** Probability of a chi-squared at least as large; 1 where nothing is redundant. */
  readonly chance: number;
}

export interface FoundNull extends NullFit {
  readonly outcome: 'found';
  readonly null_deg: Measured;
  /** From the last shot to the nearest null, -90 to 90; positive in the direction in which turns are counted. */
  readonly further_deg: Measured;
  /** Whether the null lies between turns that were tried. */
  readonly isBetween: boolean;
}

export type NullRefusal = Refusal<'too-few-shots' | 'same-angle' | 'steps-alias' | 'no-modulation'>;

const PARAMETERS = 3;
/** Turns closer than this are one and the same. */
const SAME_WITHIN_DEG = 0.05;
/** The modulation must be so many times its uncertainty before its phase means anything. */
const MIN_MODULATION = 4;

/**
 *
 *
 * @example
 * const found = findNull(search);
 * // where found.outcome is 'refused', found.code says why
 */
export function findNull(search: NullSearch): FoundNull | NullRefusal {
  const { shots, turnU_deg = 0 } = search;
  const turns = shots.map(({ turn_deg }) => turn_deg);
  const spread = refuseTurns(turns, search.balance !== undefined);
  if (spread) return spread;

  let wave: Wave | undefined;
  // The slope at each shot, which the turns' uncertainty is multiplied with, is known after the first fit.
  for (let round = 0; round < (turnU_deg > 0 ? 3 : 1); round++) {
    wave = fitWave(search.turned, shots, search.balance, (turn) => (wave ? slopeAt(wave, turn) * turnU_deg : 0));
    if (!wave) return refuse('steps-alias');
  }
  const found = wave!;
  const flat = refuseFlat(found);
  if (flat) return flat;
  const null_deg = nullOf(found);
  const last = turns[turns.length - 1];
  const further = wrapHalfTurn(null_deg.value - last);
  return {
    outcome: 'found',
    null_deg,
    further_deg: { value: further, u: Math.hypot(null_deg.u, turnU_deg) },
    isBetween: isWithin(turns, last + further),
    ...describeFit(found),
  };
}

function refuseTurns(turns: readonly number[], isScaleKnown: boolean): NullRefusal | undefined {
  if (turns.length < PARAMETERS) return refuse('too-few-shots', { shots: turns.length, needed: PARAMETERS });
  const needed = isScaleKnown ? PARAMETERS - 1 : PARAMETERS;
  const distinct = countDistinct(turns);
  if (distinct < needed) return refuse('same-angle', { angles: distinct, needed });
  const folded = countDistinct(turns.map((turn) => ((turn % 180) + 180) % 180));
  if (folded < needed) return refuse('steps-alias', { angles: folded, needed });
  return undefined;
}

function countDistinct(angles: readonly number[]): number {
  const sorted = [...angles].sort((a, b) => a - b);
  return sorted.filter((angle, i) => i === 0 || angle - sorted[i - 1] > SAME_WITHIN_DEG).length;
}

/** A fitted wave with its covariance, raised where the shots scatter more than they may. */
export interface Wave {
  readonly turned: TurnedThing;
  readonly a: number;
  readonly c: number;
  readonly s: number;
  /** b */
  readonly depth: number;
  readonly solution: WeightedSolution;
  /** Factor of the covariance. */
  readonly excess: number;
  readonly balance: number;
}

/** `extraU` is what each shot's y is uncertain by besides its leak. `undefined` where the turns determine no wave. */
export function fitWave(
  turned: TurnedThing,
  shots: readonly TurnedShot[],
  balance: Measured | undefined,
  extraU: (turn_deg: number) => number = () => 0,
): Wave | undefined {
  const light = balance?.value ?? 1;
  const rows: WeightedRow[] = shots.map(({ turn_deg, leak }) => {
    const q = leak.value / light;
    const y = turned === 'glasses' ? q / (1 + q) : q;
    const slope = turned === 'glasses' ? 1 / (1 + q) ** 2 : 1;
    const turn = 2 * radiansFromDegrees(turn_deg);
    const u = Math.hypot((leak.u / light) * slope, extraU(turn_deg));
    return { row: [1, Math.cos(turn), Math.sin(turn)], value: y, u };
  });
  const solution = solveWeighted(balance ? withScale(turned, rows, balance) : rows);
  if (!solution) return undefined;
  const [a, c, s] = solution.parameters;
  const excess = solution.redundancy > 0 ? Math.max(1, solution.chiSquared / solution.redundancy) : 1;
  return { turned, a, c, s, depth: Math.hypot(c, s), solution, excess, balance: light };
}

/**
 * One row more: the wave's known scale. For the glasses it is a = 1/2; for a polarizer a + b = 1, which is linear only
 * about a first fit, b = -C cos 2 theta0 - S sin 2 theta0.
 */
function withScale(turned: TurnedThing, rows: readonly WeightedRow[], balance: Measured): readonly WeightedRow[] {
  const relative = balance.u / balance.value;
  if (turned === 'glasses') return [...rows, { row: [1, 0, 0], value: 0.5, u: Math.max(0.5 * relative, MIN_SCALE_U) }];
  let solution = solveWeighted(rows);
  for (let round = 0; round < SCALE_ROUNDS; round++) {
    const phase = solution ? Math.atan2(-solution.parameters[2], -solution.parameters[1]) : lowestPhase(rows);
    const row = [1, -Math.cos(phase), -Math.sin(phase)];
    const scaled = [...rows, { row, value: 1, u: Math.max(relative, MIN_SCALE_U) }];
    solution = solveWeighted(scaled);
    if (!solution || round === SCALE_ROUNDS - 1) return scaled;
  }
  return rows;
}

/** Two pictures are never known to be polarized at right angles, and a lens never to be ideal, better than so. */
const MIN_SCALE_U = 0.005;
const SCALE_ROUNDS = 12;

function lowestPhase(rows: readonly WeightedRow[]): number {
  const lowest = rows.reduce((least, row) => (row.value < least.value ? row : least));
  return Math.atan2(lowest.row[2], lowest.row[1]);
}

export function refuseFlat(wave: Wave): NullRefusal | undefined {
  const { depth, c, s } = wave;
  const u = depth > 0 ? uOf(wave, [0, c / depth, s / depth]) : Number.POSITIVE_INFINITY;
  if (depth > MIN_MODULATION * u) return undefined;
  return refuse('no-modulation', { depth_pct: 200 * depth, u_pct: 200 * Math.min(u, Number.MAX_VALUE / 200) });
}

/** theta0 by the principal value, -90 to 90. */
export function nullOf(wave: Wave): Measured {
  const { c, s, depth } = wave;
  const value = degreesFromRadians(Math.atan2(-s, -c) / 2);
  const u = degreesFromRadians(uOf(wave, [0, -s / (2 * depth ** 2), c / (2 * depth ** 2)]));
  return { value, u };
}

export function describeFit(wave: Wave, redundancy: number = wave.solution.redundancy): NullFit {
  const { turned, a, c, s, depth, balance } = wave;
  const y = a - depth;
  const uY = uOf(wave, [1, -c / depth, -s / depth]);
  const slope = turned === 'glasses' ? 1 / (1 - y) ** 2 : 1;
  const { chiSquared } = wave.solution;
  const curve: LeakCurve = { turned, mean: a, depth, balance };
  return {
    curve,
    leastLeak: { value: leakOnCurve(curve, 0), u: balance * slope * uY },
    chiSquared,
    redundancy: Math.max(0, redundancy),
    chance: redundancy > 0 ? chiSquaredUpperTail(chiSquared, redundancy) : 1,
  };
}

/**
 * Leak over signal so far from the null. Infinite where nothing of the signal is left.
 *
 * @example
 * leakOnCurve({ turned: 'polarizer', mean: 0.5, depth: 0.5, balance: 1 }, 5); // 0.0076
 */
export function leakOnCurve({ turned, mean, depth, balance }: LeakCurve, fromNull_deg: number): number {
  const y = mean - depth * Math.cos(2 * radiansFromDegrees(fromNull_deg));
  if (turned === 'polarizer') return balance * y;
  return y < 1 ? (balance * y) / (1 - y) : Number.POSITIVE_INFINITY;
}

function uOf({ solution, excess }: Wave, gradient: readonly number[]): number {
  return Math.sqrt(Math.max(0, excess * quadraticForm(solution.covariance, gradient)));
}

/** Change of y per degree of turn. */
function slopeAt({ c, s }: Wave, turn_deg: number): number {
  const turn = 2 * radiansFromDegrees(turn_deg);
  return radiansFromDegrees(2 * (s * Math.cos(turn) - c * Math.sin(turn)));
}

/** To -90..90. */
export function wrapHalfTurn(angle_deg: number): number {
  const wrapped = angle_deg - 180 * Math.round(angle_deg / 180);
  return wrapped === -90 ? 90 : wrapped;
}

function isWithin(turns: readonly number[], angle_deg: number): boolean {
  const [low, high] = [Math.min(...turns), Math.max(...turns)];
  return [-180, 0, 180].some((whole) => angle_deg + whole >= low && angle_deg + whole <= high);
}
