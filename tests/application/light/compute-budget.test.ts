import { describe, expect, it } from 'vitest';
import { computeBudget } from '../../../src/application/light/compute-budget.ts';
import { LIGHT_CHAIN_SCHEMA, type LightChain } from '../../../src/record/light-chain.ts';

const chainOf = (start: LightChain['start'], factors: readonly number[]): LightChain => ({
  schema: LIGHT_CHAIN_SCHEMA,
  start,
  steps: factors.map((value) => ({ code: 'attachment', factor: { value, u: 0 }, source: 'the house', basis: 'house' })),
});

describe('reckonBudget', () => {
  // 1 fL = 3.4262591 cd/m2, 16 fL = 54.82 cd/m2, 4.5 fL = 15.42 cd/m2. VERIFIED, COMPUTED
  it('reads a start in footlamberts, and gives both units everywhere', () => {
    const { start, at_eye } = computeBudget(chainOf({ luminance_fL: { value: 16, u: 0.5 } }, [4.5 / 16]), '1');
    expect(start.cd_m2.value).toBeCloseTo(54.82, 2);
    expect(start.cd_m2.u).toBeCloseTo(0.5 * 3.4262591, 6);
    expect(at_eye.fL.value).toBeCloseTo(4.5, 9);
    expect(at_eye.cd_m2.value).toBeCloseTo(15.42, 2);
  });

  // A matt white surface of gain 1 under E lux sends back E / pi. COMPUTED
  it('reads a start in lux as a matt white screen, and does not judge it as a luminance', () => {
    const { start, findings } = computeBudget(chainOf({ illuminance_lx: { value: 100 * Math.PI, u: 3 } }, [1]), '1');
    expect(start.cd_m2.value).toBeCloseTo(100, 9);
    expect(findings.map(({ code }) => code)).toEqual(['at-the-eye']);
  });

  it('judges the reading and the light at the eye, and names the steps in their order', () => {
    const budget = computeBudget(chainOf({ luminance_cd_m2: { value: 55, u: 1 } }, [0.5, 0.2]), '1');
    expect(budget.findings).toMatchObject([
      { code: 'centre-film-open-gate', verdict: 'within', limit: 48, side: 'at-least' },
      { code: 'at-the-eye', verdict: 'outside', value: 5.5, limit: 15.4, basis: 'as-reported', confirmed: true },
    ]);
    expect(budget.steps.map(({ order, after }) => [order, after.cd_m2.value])).toEqual([
      [1, 27.5],
      [2, 5.5],
    ]);
    expect(budget.passed_pct.value).toBeCloseTo(10, 12);
  });

  it('says what a better step would leave at the eye', () => {
    const chain = chainOf({ luminance_cd_m2: { value: 50, u: 1 } }, [0.8, 0.5]);
    chain.steps[0]!.improvement = { factor: 0.88, effort: 'cleaning', assumption: 'clean' };
    const { gains, steps } = computeBudget(chain, '1');
    expect(gains).toHaveLength(1);
    expect(gains[0]).toMatchObject({ order: 1, effort: 'cleaning' });
    expect(gains[0]!.at_eye.cd_m2.value).toBeCloseTo(22, 9);
    expect(steps[0]!.confirmed).toBe(true);
  });

  it('throws for a chain without a start, which the schema refuses', () => {
    expect(() => computeBudget(chainOf({}, [1]), '1')).toThrow(RangeError);
  });
});
