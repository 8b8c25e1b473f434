/**
 * Published examples, worked by what makes a reading's budget: repeats (combineRepeats), the linear fit beneath them
 * (fitLinear), covariances (propagateCovariance) and the sum with its degrees of freedom (combineBudget). The end gauge of
 * GUM H.1 and the sums of JCGM 101, 9.2, are worked in tests/kernel/uncertainty-budget.test.ts, H.2 and H.3 by the fits
 * alone in tests/kernel/linear-fit.test.ts, the tables of variances in tests/kernel/analysis-of-variance.test.ts.
 */
import { describe, expect, it } from 'vitest';
import { combineRepeats, type CombinedQuantity, type Repeat } from '../../src/geometry/combine-repeats.ts';
import { fitLinear, meansWithCovariance } from '../../src/kernel/linear-fit.ts';
import { mean, standardDeviation } from '../../src/kernel/statistics.ts';
import { combineBudget } from '../../src/kernel/uncertainty-budget.ts';
import { GAUGE, OHM, SILICON, THERMOMETER, VOLTAGE } from '../kernel/published-data.ts';

function combine(repeats: readonly Repeat[], drift = false): CombinedQuantity {
  const result = combineRepeats(repeats, drift);
  if (result.outcome === 'refused') throw new Error(result.code);
  expect(result.outlier).toBeUndefined();
  return result.quantities[0]!;
}
const of = (values: readonly number[], u: number): Repeat[] =>
  values.map((value, time) => ({ time, values: [{ value, u }] }));

it('GUM H.2: the resistance from repeats of its parts, which are correlated', () => {
  const { means, covariance } = meansWithCovariance(OHM);
  const [volt, ampere, phase] = means as [number, number, number];
  // Each mean is what repeats of it alone say; only the covariance between them is more.
  [volt, ampere, phase].forEach((value, k) => {
    const alone = combine(of(OHM[k]!, 0));
    expect(alone.value).toBeCloseTo(value, 12);
    expect(alone.u).toBeCloseTo(Math.sqrt(covariance.data[4 * k]!), 12);
    expect(alone.degreesOfFreedom).toBe(4);
  });
  // Each set of observations taken together gives the same, GUM H.2.4.
  const together = combine(
    of(
      OHM[0]!.map((v, i) => (v / OHM[1]![i]!) * Math.cos(OHM[2]![i]!)),
      0,
    ),
  );
  expect(together.value).toBeCloseTo(127.732, 2);
  expect(together.u).toBeCloseTo(0.071, 3);
});

it('GUM H.3: a drift taken out, -0.1712 + 0.0022 (t - 20), and what it says at 30', () => {
  const readings = THERMOMETER.map(([time, value]) => ({ time: time - 20, values: [{ value, u: 0 }] }));
  const { value, u, drift, degreesOfFreedom } = combine(readings, true);
  const middle = mean(THERMOMETER.map(([time]) => time)) - 20;
  expect(drift!.value).toBeCloseTo(0.00218, 5);
  expect(drift!.u).toBeCloseTo(0.00067, 5);
  expect(degreesOfFreedom).toBe(9);
  const at = (t: number) => ({
    value: value + drift!.value * (t - middle),
    u: Math.hypot(u, drift!.u * (t - middle)),
  });
  expect(at(0).value).toBeCloseTo(-0.1712, 4);
  expect(at(0).u).toBeCloseTo(0.0029, 4);
  expect(at(10).value).toBeCloseTo(-0.1494, 4);
  expect(at(10).u).toBeCloseTo(0.0041, 4);
});

describe('groups as repeats: what they scatter beyond what each says of itself is Fisher’s F', () => {
  it('GUM H.5: ten days of a voltage, 97 uV above 10 V, u 18 uV with 9 degrees of freedom, 13 uV pooled', () => {
    const within = Math.sqrt(mean(VOLTAGE.deviations_uV.map((s) => s * s)));
    const days = combine(of(VOLTAGE.means_uV, within / Math.sqrt(VOLTAGE.perDay)));
    expect(within).toBeCloseTo(85, 0);
    expect(days.value).toBeCloseTo(97, 0);
    expect(days.birge! ** 2).toBeCloseTo(2.26, 2);
    // Internal and external disagree, and the larger counts.
    expect(days.internal).toBeCloseTo(12, 0);
    expect(days.u).toBeCloseTo(18, 0);
    expect(days.degreesOfFreedom).toBe(9);
    expect(days.expanded / days.u).toBeCloseTo(2.26, 2);
  });

  it('NIST SiRstv: F 1.18046237440255, standard deviation within 0.104076068334656', () => {
    const within = Math.sqrt(mean(SILICON.map((values) => standardDeviation(values) ** 2)));
    expect(within).toBeCloseTo(0.104076068334656, 11);
    const instruments = combine(
      of(
        SILICON.map((values) => mean(values)),
        within / Math.sqrt(5),
      ),
    );
    expect(instruments.birge! ** 2).toBeCloseTo(1.18046237440255, 9);
    expect(instruments.u).toBeCloseTo(Math.sqrt(5.11462616e-2 / 4 / 25), 9);
  });

  it('the gauge study: repeatability 0.1999, reproducibility 0.2268, together 0.3024', () => {
    const observed = GAUGE.flatMap((parts, operator) =>
      parts.flatMap((trials, part) => trials.map((value) => ({ operator, part, value }))),
    );
    const additive = fitLinear(
      observed.map(({ operator, part }) => [
        ...Array.from({ length: 10 }, (_, k) => (k === part ? 1 : 0)),
        ...[1, 2].map((k) => (k === operator ? 1 : 0)),
      ]),
      observed.map(({ value }) => value),
    )!;
    const repeatability = additive.scatter!;
    expect(additive.degreesOfFreedom).toBe(78);
    expect(repeatability).toBeCloseTo(0.1999, 4);
    const operators = combine(
      of(
        GAUGE.map((parts) => mean(parts.flat())),
        repeatability / Math.sqrt(30),
      ),
    );
    const reproducibility = repeatability * Math.sqrt((operators.birge! ** 2 - 1) / 30);
    expect(reproducibility).toBeCloseTo(0.2268, 4);
    const both = combineBudget(
      [repeatability, reproducibility].map((u, k) => ({
        component: `${k}`,
        type: 'A',
        u,
        degreesOfFreedom: [78, 2][k]!,
        source: 'gauge study',
        repeats: true,
      })),
    );
    expect(both.u).toBeCloseTo(0.3024, 4);
  });
});
