import { describe, expect, it } from 'vitest';
import type { RandomSource } from '../../src/kernel/random.ts';
import { predictLeaks } from '../../src/light/explain-leaks.ts';
import { findNullBySteps, type FoundNullInSteps, type NullBySteps } from '../../src/light/null-by-steps.ts';
import { coverageOf } from './coverage.ts';

const FLOOR = 0.003;
const leakU = (leak: number) => Math.hypot(0.01 * leak, 0.0003);

interface Trial {
  readonly turned?: NullBySteps['turned'];
  /** Where the null lies, counted from the first shot. */
  readonly null_deg: number;
  readonly step_deg: number;
  readonly shots: number;
}

function leaksOf({ turned = 'glasses', null_deg, step_deg, shots }: Trial, random?: RandomSource) {
  return Array.from({ length: shots }, (_, k) => {
    const off = k * step_deg - null_deg;
    const leak = predictLeaks(
      turned === 'glasses' ? { glasses_deg: off } : { picture_deg: { right: off } },
      FLOOR,
    ).left;
    return { value: leak + leakU(leak) * (random?.normal() ?? 0), u: leakU(leak) };
  });
}

function found(search: NullBySteps): FoundNullInSteps {
  const result = findNullBySteps(search);
  if (result.outcome === 'refused') throw new Error(JSON.stringify(result));
  return result;
}

const KNOWN = { value: 1, u: 0.05 };

describe('findNullBySteps', () => {
  it.each([
    [12, 31],
    [20, 47],
    [9, 14],
  ])('finds a step of %d degrees and the null without being told it', (step_deg, null_deg) => {
    for (const turned of ['glasses', 'polarizer'] as const) {
      const result = found({ turned, leaks: leaksOf({ turned, null_deg, step_deg, shots: 6 }) });
      expect(result.step_deg!.value).toBeCloseTo(step_deg, 3);
      expect(result.further_steps.value).toBeCloseTo((null_deg - 5 * step_deg) / step_deg, 3);
      expect(result.further_deg!.value).toBeCloseTo(null_deg - 5 * step_deg, 2);
      expect(result.leastLeak.value).toBeCloseTo(FLOOR, 5);
      expect(result.redundancy).toBe(2);
    }
  });

  it('three shots do where the balance of the pictures is known', () => {
    const result = found({ turned: 'glasses', leaks: leaksOf({ null_deg: 7, step_deg: 6, shots: 3 }), balance: KNOWN });
    expect(result.step_deg!.value).toBeCloseTo(6, 2);
    expect(result.further_deg!.value).toBeCloseTo(-5, 2);
  });

  it('steps that span little give the null in steps and no size of a step', () => {
    const leaks = leaksOf({ null_deg: 5, step_deg: 3, shots: 5 }).map((leak) => ({ ...leak, u: leak.u * 2 }));
    const result = found({ turned: 'glasses', leaks });
    expect(result.step_deg).toBeNull();
    expect(result.further_deg).toBeNull();
    expect(result.further_steps.value).toBeCloseTo(5 / 3 - 4, 1);
    expect(result.further_steps.u).toBeLessThan(0.2);
  });

  const coverages: [string, Trial, boolean][] = [
    ['six steps of 12 degrees', { null_deg: 31, step_deg: 12, shots: 6 }, false],
    ['five steps of 6 degrees, balance known', { null_deg: 10, step_deg: 6, shots: 5 }, true],
    ['a polarizer, seven steps of 8 degrees', { turned: 'polarizer', null_deg: 20, step_deg: 8, shots: 7 }, false],
  ];
  it.each(coverages)('u covers steps, step and degrees: %s', (_name, trial, isScaled) => {
    const trials = 200;
    const held: Record<string, boolean[]> = { steps: [], step: [], degrees: [] };
    const truth_deg = trial.null_deg - (trial.shots - 1) * trial.step_deg;
    const holds = ({ value, u }: { value: number; u: number }, truth: number) => Math.abs(value - truth) <= 2 * u;
    coverageOf(trials, 9, (random) => {
      const { turned = 'glasses' } = trial;
      const result = found({ turned, leaks: leaksOf(trial, random), ...(isScaled ? { balance: KNOWN } : {}) });
      held.steps.push(holds(result.further_steps, truth_deg / trial.step_deg));
      if (result.step_deg) held.step.push(holds(result.step_deg, trial.step_deg));
      if (result.further_deg) held.degrees.push(holds(result.further_deg, truth_deg));
      return true;
    });
    for (const [what, each] of Object.entries(held)) {
      expect(each.length, what).toBeGreaterThan(0.9 * trials);
      expect(each.filter(Boolean).length / each.length, what).toBeGreaterThan(0.9);
    }
  });
});

describe('findNullBySteps refuses', () => {
  it('three shots, or two where the balance is known', () => {
    const leaks = leaksOf({ null_deg: 7, step_deg: 6, shots: 3 });
    expect(findNullBySteps({ turned: 'glasses', leaks })).toMatchObject({
      code: 'too-few-shots',
      facts: { needed: 4 },
    });
    expect(findNullBySteps({ turned: 'glasses', leaks: leaks.slice(1), balance: KNOWN })).toMatchObject({
      code: 'too-few-shots',
      facts: { needed: 3 },
    });
  });

  it('leaks that do not change', () => {
    const leaks = Array.from({ length: 6 }, () => ({ value: 0.01, u: 0.001 }));
    expect(findNullBySteps({ turned: 'glasses', leaks })).toMatchObject({ code: 'no-modulation' });
  });

  it('shots too uncertain to tell steps of two sizes apart', () => {
    const leaks = [0.61, 0.12, 0.24, 0.35, 0.35, 0.58, 0.13].map((value) => ({ value, u: 0.1 }));
    const result = findNullBySteps({ turned: 'polarizer', leaks });
    expect(result).toMatchObject({ outcome: 'refused', code: 'steps-alias' });
    if (result.outcome !== 'refused') return;
    expect(Math.abs(Number(result.facts.step_deg) - Number(result.facts.other_step_deg))).toBeGreaterThan(10);
  });
});
