/**
 * The way of the light from the lamp to the eye, step by step.
 *
 *   L_eye = L_start * prod_i k_i,      (u / L)^2 = (u_start / L_start)^2 + sum_i (u_i / k_i)^2
 *
 * `start` is the luminance of the screen as it was read: open gate, no film, the lens and the screen that were there
 * then. Each step is a factor for what has changed since or lies on the way: aperture and picture area, polarizer,
 * attachment, another screen, glasses. Every factor says where it comes from; the ones built in are to be replaced by
 * those of the house.
 *
 * Reference: GUM 5.1.6, relative uncertainty of a product of independent quantities.
 */
import type { Measured } from '../kernel/measured.ts';
import { footlambertsFromLuminance, transmittanceOfDensity } from '../kernel/photometry.ts';
import type { Effort, FactorBasis, StepCode } from '../record/light-codes.ts';

/** The best that a step can realistically become, and what is assumed by saying so. */
export interface Improvement {
  readonly factor: number;
  readonly effort: Effort;
  readonly assumption: string;
}

export interface BudgetStep {
  readonly code: StepCode;
  /** What the house calls it. */
  readonly label?: string;
  /** Light after the step over light before it. */
  readonly factor: Measured;
  readonly source: string;
  readonly basis: FactorBasis;
  readonly improvement?: Improvement;
}

export interface CountedStep extends BudgetStep {
  readonly after_cd_m2: Measured;
  /** Its part of the variance of the result, 0 to 1. */
  readonly shareOfVariance: number;
}

export interface PossibleGain {
  readonly code: StepCode;
  /** Of the step, in the order of the chain. */
  readonly index: number;
  readonly effort: Effort;
  readonly assumption: string;
  /** Light at the eye over what it is now. */
  readonly gain: Measured;
  /** ln(gain) over the weight of its effort: the order of the list. */
  readonly worth: number;
}

export interface LightBudget {
  readonly steps: readonly CountedStep[];
  readonly atEye_cd_m2: Measured;
  readonly atEye_fL: Measured;
  /** Product of all factors. */
  readonly passed: Measured;
  readonly startShareOfVariance: number;
  /** What would give most for least first; only steps that can gain. */
  readonly gains: readonly PossibleGain[];
}

/** How many times a cleaning each effort counts. An assumption of ours, only to order the list by. */
export const EFFORT_WEIGHT: Readonly<Record<Effort, number>> = { cleaning: 1, setting: 1.5, part: 5, installation: 20 };

/**
 * Throws RangeError for a start or a factor that is not positive: such a chain has no logarithm and no relative u.
 *
 * @example
 * const budget = addUpLight({ value: 55, u: 1 }, defaultSteps(chain)); // cd/m2
 */
export function addUpLight(start_cd_m2: Measured, steps: readonly BudgetStep[]): LightBudget {
  for (const { value } of [start_cd_m2, ...steps.map(({ factor }) => factor)]) {
    if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`a factor or luminance of ${value}`);
  }
  const relative = ({ value, u }: Measured) => u / value;
  const variances = steps.map(({ factor }) => relative(factor) ** 2);
  const variance = relative(start_cd_m2) ** 2 + variances.reduce((sum, v) => sum + v, 0);
  const share = (part: number) => (variance > 0 ? part / variance : 0);

  let value = start_cd_m2.value;
  let squares = relative(start_cd_m2) ** 2;
  const counted = steps.map((step, i): CountedStep => {
    value *= step.factor.value;
    squares += variances[i];
    return { ...step, after_cd_m2: { value, u: value * Math.sqrt(squares) }, shareOfVariance: share(variances[i]) };
  });
  const passed = value / start_cd_m2.value;
  const u = value * Math.sqrt(variance);
  return {
    steps: counted,
    atEye_cd_m2: { value, u },
    atEye_fL: { value: footlambertsFromLuminance(value), u: footlambertsFromLuminance(u) },
    passed: { value: passed, u: passed * Math.sqrt(variances.reduce((sum, v) => sum + v, 0)) },
    startShareOfVariance: share(relative(start_cd_m2) ** 2),
    gains: rankGains(steps),
  };
}

function rankGains(steps: readonly BudgetStep[]): PossibleGain[] {
  return steps
    .flatMap(({ code, factor, improvement }, index): PossibleGain[] => {
      if (!improvement || improvement.factor <= factor.value) return [];
      const { effort, assumption } = improvement;
      const gain = improvement.factor / factor.value;
      const worth = Math.log(gain) / EFFORT_WEIGHT[effort];
      return [{ code, index, effort, assumption, gain: { value: gain, u: (gain * factor.u) / factor.value }, worth }];
    })
    .sort((a, b) => b.worth - a.worth);
}

/** What the usual chain needs to know of a house. */
export interface ChainGeometry {
  /** Aperture through which the open-gate reading was taken, and that of one of the two pictures, on the film. */
  readonly readAperture_mm: { readonly width: number; readonly height: number };
  readonly pictureAperture_mm: { readonly width: number; readonly height: number };
  /** Area lit on the screen then, and by one picture now. */
  readonly readArea_m2: number;
  readonly pictureArea_m2: number;
  /** Whether the reading was already taken from the metallic screen. */
  readonly readFromMetallicScreen: boolean;
}

/** The factor, or what it is improved to, is the trade's own. */
const USUAL = 'usual';

/**
 * The usual steps, with the factors of the trade where the house has none of its own. Where each comes from, and what its
 * improvement takes for granted, is told by the words for its code: `source` and `assumption` say `usual`.
 *
 * @example
 * const steps = defaultSteps(chain); // aperture, picture area, polarizer, attachment and so on to the glasses
 */
export function defaultSteps(chain: ChainGeometry): BudgetStep[] {
  const { readAperture_mm: read, pictureAperture_mm: picture, readArea_m2, pictureArea_m2 } = chain;
  const computed = (code: StepCode, value: number): BudgetStep => ({
    code,
    factor: { value, u: 0.02 * value },
    source: USUAL,
    basis: 'computed',
  });
  const steps: BudgetStep[] = [
    computed('aperture-area', (picture.width * picture.height) / (read.width * read.height)),
    computed('picture-area', readArea_m2 / pictureArea_m2),
    {
      code: 'film-base',
      factor: { value: transmittanceOfDensity(0.05), u: 0.02 },
      source: USUAL,
      basis: 'as-reported',
    },
    {
      code: 'polarizer',
      factor: { value: 0.38, u: 0.03 },
      source: USUAL,
      basis: 'common-practice',
      improvement: {
        factor: 0.42,
        effort: 'part',
        assumption: USUAL,
      },
    },
    {
      code: 'attachment',
      factor: { value: 0.75, u: 0.08 },
      source: USUAL,
      basis: 'from-memory',
      improvement: { factor: 0.81, effort: 'cleaning', assumption: USUAL },
    },
    {
      code: 'port-glass',
      factor: { value: 0.9, u: 0.03 },
      source: USUAL,
      basis: 'computed',
      improvement: { factor: 0.918, effort: 'cleaning', assumption: USUAL },
    },
    {
      code: 'glasses',
      factor: { value: 0.76, u: 0.05 },
      source: USUAL,
      basis: 'computed',
      improvement: { factor: 0.8, effort: 'part', assumption: USUAL },
    },
  ];
  if (chain.readFromMetallicScreen) return steps;
  const gain: BudgetStep = {
    code: 'screen-gain',
    factor: { value: 2.5, u: 0.3 },
    source: USUAL,
    basis: 'common-practice',
  };
  return [...steps.slice(0, -1), gain, ...steps.slice(-1)];
}
