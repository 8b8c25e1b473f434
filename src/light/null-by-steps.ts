/**
 * Null search by equal steps of unknown size: marks on a ring, or turns of a screw, that nobody has measured.
 *
 *   y_k = A + C cos 2 k h + S sin 2 k h,    k = 0, 1, 2 ...        h the step, positive
 *
 * For a given h the fit is the linear one of null-search.ts; chi-squared as a function of h is looked through from end
 * to end, and all h that raise its least value by no more than 4 are accepted (the 95 % interval). Where the shots span
 * little the curve is a parabola: the null is then known in steps but h is not, and the result says so. Where h is
 * accepted in two separate places the steps alias and nothing is concluded.
 */
import type { Measured } from '../kernel/measured.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import {
  describeFit,
  fitWave,
  type NullFit,
  type NullRefusal,
  nullOf,
  refuseFlat,
  type TurnedThing,
  type Wave,
  wrapHalfTurn,
} from './null-search.ts';

export interface NullBySteps {
  readonly turned: TurnedThing;
  /** Leak over signal before any step, after one, after two and so on. */
  readonly leaks: readonly Measured[];
  /** Leaking picture's light over the other one's, where it is known. */
  readonly balance?: Measured;
}

export interface FoundNullInSteps extends NullFit {
  readonly outcome: 'found';
  /** From the last shot on; negative is back. */
  readonly further_steps: Measured;
  /** Null where the shots do not tell how large a step is. */
  readonly step_deg: Measured | null;
  readonly further_deg: Measured | null;
  /** The step that the curve is drawn with: the best one, however little is known of it. */
  readonly stepOfCurve_deg: number;
}

const MIN_STEP_DEG = 0.5;
const MAX_STEP_DEG = 60;
const SCAN_DEG = 0.25;
/** Halvings, or golden sections, after which a step is known far better than any shots can tell. */
const SETTLING_ROUNDS = 26;
/** Rise of chi-squared at the ends of a 95 % interval of one quantity. */
const ACCEPTED_RISE = 4;
/** A step known worse than to this part of itself is not stated. */
const MAX_RELATIVE_STEP_U = 0.25;
/**
 * A quarter turn from the null the leak is the whole of the leaking picture: q / (1 + q) never passes 1, and no picture
 * is three times as bright as the other. Too small a step would need a higher crest.
 */
const HIGHEST_CREST = { glasses: 1.02, polarizer: 3 } as const;
const MIN_SHOTS = { free: 4, scaled: 3 } as const;

/**
 * Refused for too few photographs, for steps that are too large to be told apart, and where nothing changes.
 *
 * @example
 * const found = findNullBySteps({ turned: 'polarizer', leaks });
 * if (found.outcome === 'found') found.further_steps;
 */
export function findNullBySteps(search: NullBySteps): FoundNullInSteps | NullRefusal | Refusal<'too-few-shots'> {
  const { leaks, balance } = search;
  const needed = balance ? MIN_SHOTS.scaled : MIN_SHOTS.free;
  if (leaks.length < needed) return refuse('too-few-shots', { shots: leaks.length, needed });
  const waveOf = (h: number): Wave | undefined =>
    fitWave(
      search.turned,
      leaks.map((leak, k) => ({ turn_deg: k * h, leak })),
      balance,
    );
  const chiOf = (h: number) => {
    const wave = waveOf(h);
    const isPossible = wave !== undefined && wave.a + wave.depth <= HIGHEST_CREST[search.turned];
    return isPossible ? wave.solution.chiSquared : Number.POSITIVE_INFINITY;
  };

  const valleys = findValleys(chiOf);
  const best = valleys.at(0);
  const wave = best && waveOf(best.h);
  if (!wave) return refuse('no-modulation');

  // The step is one parameter more than the wave counts.
  const redundancy = wave.solution.redundancy - 1;
  const excess = redundancy > 0 ? Math.max(1, wave.solution.chiSquared / redundancy) : 1;
  const limit = best.chi + ACCEPTED_RISE * excess;
  const rival = valleys.slice(1).find(({ chi, h }) => chi < limit && !isOneValley(chiOf, best.h, h, limit));
  if (rival) return refuse('steps-alias', { step_deg: best.h, other_step_deg: rival.h });
  const settled: Wave = { ...wave, excess };
  const flat = refuseFlat(settled);
  if (flat) return flat;

  const last = leaks.length - 1;
  const ends = [-1, 1].map((way) => findEnd(chiOf, best.h, way, limit));
  const atEnds = ends.map((h) => ({ h, wave: waveOf(h) ?? settled }));
  const { value: null_deg, u: alone_deg } = nullOf(settled);
  const further_deg = wrapHalfTurn(null_deg - last * best.h);
  const furtherAtEnds = atEnds.map(({ h, wave: at }) => {
    const further = nullOf(at).value - last * h;
    // The null repeats every half turn; the one meant is the best fit's.
    return { h, deg: further + 180 * Math.round((further_deg - further) / 180) };
  });
  const steps = [further_deg / best.h, ...furtherAtEnds.map(({ h, deg }) => deg / h)];
  const degrees = [further_deg, ...furtherAtEnds.map(({ deg }) => deg)];
  const leasts = [settled, ...atEnds.map(({ wave: at }) => at)].map((at) => describeFit(at).leastLeak.value);
  const step: Measured = { value: best.h, u: (ends[1] - ends[0]) / 4 };
  const isStepKnown = step.u < MAX_RELATIVE_STEP_U * step.value && ends[0] > MIN_STEP_DEG && ends[1] < MAX_STEP_DEG;
  const fit = describeFit(settled, redundancy);
  return {
    outcome: 'found',
    ...fit,
    further_steps: { value: steps[0], u: Math.hypot(alone_deg / best.h, quarterRange(steps)) },
    step_deg: isStepKnown ? step : null,
    stepOfCurve_deg: best.h,
    further_deg: isStepKnown ? { value: further_deg, u: Math.hypot(alone_deg, quarterRange(degrees)) } : null,
    leastLeak: { value: fit.leastLeak.value, u: Math.hypot(fit.leastLeak.u, quarterRange(leasts)) },
  };
}

interface Valley {
  readonly h: number;
  readonly chi: number;
}

/** All local minima of chi-squared, the deepest first; each refined by golden sections. */
function findValleys(chiOf: (h: number) => number): Valley[] {
  const count = Math.round((MAX_STEP_DEG - MIN_STEP_DEG) / SCAN_DEG) + 1;
  const scanned = Array.from({ length: count }, (_, i) => {
    const h = MIN_STEP_DEG + i * SCAN_DEG;
    return { h, chi: chiOf(h) };
  });
  const lows = scanned.filter(
    ({ chi }, i) =>
      Number.isFinite(chi) &&
      chi <= (scanned[i - 1]?.chi ?? Number.POSITIVE_INFINITY) &&
      chi <= (scanned[i + 1]?.chi ?? Number.POSITIVE_INFINITY),
  );
  return lows
    .sort((a, b) => a.chi - b.chi)
    .slice(0, MAX_VALLEYS)
    .map(({ h }) => refine(chiOf, h))
    .sort((a, b) => a.chi - b.chi);
}

/** One that explains the shots, and one that might; more make it no more ambiguous. */
const MAX_VALLEYS = 3;

const GOLDEN = (Math.sqrt(5) - 1) / 2;

function refine(chiOf: (h: number) => number, around: number): Valley {
  let low = Math.max(MIN_STEP_DEG, around - SCAN_DEG);
  let high = Math.min(MAX_STEP_DEG, around + SCAN_DEG);
  for (let round = 0; round < SETTLING_ROUNDS; round++) {
    const [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
    if (chiOf(a) <= chiOf(b)) high = b;
    else low = a;
  }
  const h = (low + high) / 2;
  return { h, chi: chiOf(h) };
}

/** Whether chi-squared stays below the limit all the way between two steps: then they are one valley. */
function isOneValley(chiOf: (h: number) => number, from: number, to: number, limit: number): boolean {
  for (let i = 1; i < 40; i++) if (chiOf(from + ((to - from) * i) / 40) > limit) return false;
  return true;
}

/** How far the step may go one way before chi-squared passes the limit, at most to the end of what is looked through. */
function findEnd(chiOf: (h: number) => number, from: number, way: number, limit: number): number {
  const bound = way < 0 ? MIN_STEP_DEG : MAX_STEP_DEG;
  let inside = from;
  let reach = 0.001;
  let outside = clampTo(from + way * reach, bound, way);
  while (chiOf(outside) <= limit) {
    if (outside === bound) return bound;
    inside = outside;
    reach *= 2;
    outside = clampTo(from + way * reach, bound, way);
  }
  for (let round = 0; round < SETTLING_ROUNDS; round++) {
    const middle = (inside + outside) / 2;
    if (chiOf(middle) <= limit) inside = middle;
    else outside = middle;
  }
  return inside;
}

function clampTo(h: number, bound: number, way: number): number {
  return way < 0 ? Math.max(bound, h) : Math.min(bound, h);
}

function quarterRange(values: readonly number[]): number {
  return (Math.max(...values) - Math.min(...values)) / 4;
}
