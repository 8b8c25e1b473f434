/** A light chain reckoned through: what is left at the eye, how surely, and what would give most for least. */
import { type Measured, scaleMeasured } from '../../kernel/measured.ts';
import { CD_M2_PER_FOOTLAMBERT, luminanceFromIlluminance } from '../../kernel/photometry.ts';
import { addUpLight, type BudgetStep } from '../../light/light-budget.ts';
import { judgeLimit, type LightFinding } from '../../limits/judge-light.ts';
import { BUDGET_SCHEMA, type UnwordedBudget } from '../../record/light-budget.ts';
import type { LightChain } from '../../record/light-chain.ts';

export function computeBudget(chain: LightChain, softwareVersion: string): UnwordedBudget {
  const { start, quantity } = readStart(chain.start);
  const { steps, atEye_cd_m2, passed, startShareOfVariance, gains } = addUpLight(start, chain.steps.map(toStep));
  const labelOf = (index: number) => chain.steps[index].label ?? null;
  return {
    schema: BUDGET_SCHEMA,
    outcome: 'reckoned',
    software: { name: 'twinplumb', version: softwareVersion },
    start: {
      ...inBothUnits(start),
      quantity,
      source: chain.start.source ?? null,
      share_of_variance_pct: 100 * startShareOfVariance,
    },
    steps: steps.map(({ code, factor, source, basis, after_cd_m2, shareOfVariance }, index) => ({
      order: index + 1,
      code,
      label: labelOf(index),
      factor,
      source,
      basis,
      confirmed: basis !== 'from-memory',
      after: inBothUnits(after_cd_m2),
      share_of_variance_pct: 100 * shareOfVariance,
    })),
    passed_pct: scaleMeasured(passed, 100),
    at_eye: inBothUnits(atEye_cd_m2),
    gains: gains.map(({ code, index, effort, assumption, gain }) => ({
      order: index + 1,
      code,
      label: labelOf(index),
      effort,
      assumption,
      gain,
      at_eye: inBothUnits(scaleMeasured(atEye_cd_m2, gain.value)),
    })),
    findings: judgeBudget(start, quantity, atEye_cd_m2),
  };
}

/** What falls on the screen is what a matt white one of gain 1 sends back; its own gain is a step. */
function readStart(given: LightChain['start']): { start: Measured; quantity: 'luminance' | 'illuminance' } {
  const { luminance_cd_m2, luminance_fL, illuminance_lx } = given;
  if (illuminance_lx) {
    return { start: scaleMeasured(illuminance_lx, luminanceFromIlluminance(1, 1)), quantity: 'illuminance' };
  }
  if (luminance_fL) return { start: scaleMeasured(luminance_fL, CD_M2_PER_FOOTLAMBERT), quantity: 'luminance' };
  if (!luminance_cd_m2) throw new RangeError('a light chain without a start');
  return { start: luminance_cd_m2, quantity: 'luminance' };
}

function toStep({ label, improvement, ...step }: LightChain['steps'][number]): BudgetStep {
  return { ...step, ...(label === undefined ? {} : { label }), ...(improvement === undefined ? {} : { improvement }) };
}

function inBothUnits(cd_m2: Measured): { cd_m2: Measured; fL: Measured } {
  return { cd_m2, fL: scaleMeasured(cd_m2, 1 / CD_M2_PER_FOOTLAMBERT) };
}

/** What was read is judged where it is a luminance of the screen with the gate open, as the limit means it. */
function judgeBudget(start: Measured, quantity: 'luminance' | 'illuminance', atEye: Measured): LightFinding[] {
  return [
    ...(quantity === 'luminance' ? [judgeLimit('centre-film-open-gate', start, null, 'centre')] : []),
    judgeLimit('at-the-eye', atEye, null, 'centre'),
  ];
}
