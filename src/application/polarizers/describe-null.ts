/** A null that photographs gave, as the record of it, still without words: verdict, curve and figures in the file's units. */
import { type Measured, uncertaintyOfBounds } from '../../kernel/measured.ts';
import { leakOnCurve, type LeakCurve } from '../../light/null-search.ts';
import { NULL_SEARCH_SCHEMA, type NullVerdict, type UnwordedNullSearch } from '../../record/null-search.ts';
import { findNullInPhotographs, type NullFromPhotographs, type NullRequest } from './find-null.ts';

/** Half a degree from the null leaks 0.008 % more than the null itself (Malus): nobody sees it, and no hand turns to it. */
const LEAVE_DEG = 0.5;
/** A null known worse than this, twice its standard uncertainty, is no place to turn to when it may be where things stand. */
const MAX_DOUBT_DEG = 1;
/** The same two for steps whose size is unknown, in steps. */
const LEAVE_STEPS = 0.1;
const MAX_DOUBT_STEPS = 0.5;
/** Shots that scatter so much by chance once in a thousand series do not belong to one curve. */
const MIN_CHANCE = 0.001;
const CURVE_POINTS = 60;
/** Of the span of the turns, to each side. */
const CURVE_MARGIN = 0.1;

/** A scale read by eye at the rim of a mount is off by so much at most. An assumption of ours. */
export const DEFAULT_ANGLE_U_DEG = 0.5;

export interface NullSearchRequest extends Pick<NullRequest, 'lens' | 'turned' | 'shots' | 'reference' | 'aspect'> {
  /** How far each turn may be off; `DEFAULT_ANGLE_U_DEG` where left out. */
  readonly doubt_deg?: number;
  readonly softwareVersion: string;
}

/** The whole search: photographs -> the record of it, without words. `onShot` is called with the photographs done. */
export async function searchNull(
  options: NullSearchRequest,
  onShot?: (done: number) => void,
): Promise<UnwordedNullSearch> {
  const { doubt_deg = DEFAULT_ANGLE_U_DEG, softwareVersion, ...rest } = options;
  const request = { ...rest, turnU_deg: uncertaintyOfBounds(doubt_deg), ...(onShot ? { onShot } : {}) };
  return describeNull(request, await findNullInPhotographs(request), softwareVersion);
}

export function describeNull(
  request: Pick<NullRequest, 'lens' | 'turned' | 'reference'>,
  result: NullFromPhotographs,
  softwareVersion: string,
): UnwordedNullSearch {
  const { lens, turned, reference } = request;
  const common = {
    schema: NULL_SEARCH_SCHEMA,
    software: { name: 'twinplumb', version: softwareVersion },
    lens,
    turned,
    shots: result.leaks.map(({ file, turn_deg, leak }) => ({ file, turn_deg, leak_pct: inPercent(leak) })),
    reference: reference.name,
  } as const;
  if (result.outcome === 'refused') {
    const { code, facts } = result.refusal;
    return { ...common, outcome: 'refused', refusal: { code, facts, file: result.file } };
  }
  const { leastLeak, chiSquared, redundancy, chance } = result.null;
  const found = {
    ...common,
    outcome: 'found',
    least_leak_pct: inPercent(leastLeak),
    fit: { chi_squared: chiSquared, redundancy, chance },
    notes: [...result.notes, ...(chance < MIN_CHANCE ? ['shots-disagree'] : [])],
  } as const;
  const last = result.leaks.length - 1;
  if (result.by === 'turns') {
    const { null_deg, further_deg, isBetween, curve } = result.null;
    const turns = result.leaks.map(({ turn_deg }) => turn_deg!);
    // Of the nulls, which repeat every half turn, the one that is meant.
    const at = turns[last] + further_deg.value;
    return {
      ...found,
      by: 'turns',
      verdict: judgeWay(further_deg, isBetween, LEAVE_DEG, MAX_DOUBT_DEG),
      null_deg: { value: at, u: null_deg.u },
      further_deg,
      further_steps: null,
      step_deg: null,
      is_between: isBetween,
      curve: { unit: 'deg', null_at: at, points: drawCurve(curve, turns, at, 1) },
    };
  }
  const { further_steps, further_deg, step_deg, stepOfCurve_deg, curve } = result.null;
  const at = last + further_steps.value;
  const isBetween = at >= 0 && at <= last;
  return {
    ...found,
    by: 'steps',
    verdict: further_deg
      ? judgeWay(further_deg, isBetween, LEAVE_DEG, MAX_DOUBT_DEG)
      : judgeWay(further_steps, isBetween, LEAVE_STEPS, MAX_DOUBT_STEPS),
    null_deg: null,
    further_deg,
    further_steps,
    step_deg,
    is_between: isBetween,
    curve: {
      unit: 'steps',
      null_at: at,
      points: drawCurve(
        curve,
        result.leaks.map((_, k) => k),
        at,
        stepOfCurve_deg,
      ),
    },
  };
}

function judgeWay({ value, u }: Measured, isBetween: boolean, leave: number, mostDoubt: number): NullVerdict {
  if (2 * u > mostDoubt && Math.abs(value) < 2 * u) return 'uncertain';
  if (Math.abs(value) <= Math.max(leave, 2 * u)) return 'at-null';
  return isBetween ? 'turn' : 'go-on';
}

/** Over the turns and the null, with a margin; `unit_deg`: degrees of one unit of the scale. */
function drawCurve(curve: LeakCurve, turns: readonly number[], null_at: number, unit_deg: number) {
  const [low, high] = [Math.min(...turns, null_at), Math.max(...turns, null_at)];
  const margin = CURVE_MARGIN * (high - low);
  return Array.from({ length: CURVE_POINTS + 1 }, (_, i) => {
    const turn = low - margin + ((high - low + 2 * margin) * i) / CURVE_POINTS;
    return [turn, 100 * leakOnCurve(curve, (turn - null_at) * unit_deg)] as const;
  }).filter(([, leak_pct]) => Number.isFinite(leak_pct));
}

function inPercent({ value, u }: Measured): Measured {
  return { value: 100 * value, u: 100 * u };
}
