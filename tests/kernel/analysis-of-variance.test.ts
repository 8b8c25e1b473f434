import { describe, expect, it } from 'vitest';
import { analyseGauge, analyseGroups, summariseGroup } from '../../src/kernel/analysis-of-variance.ts';
import { GAUGE, SILICON, VOLTAGE } from './published-data.ts';

describe('analyseGroups', () => {
  it('GUM H.5, the voltage standard: 10.000 097 V, 18 uV between days, 13 uV pooled', () => {
    const days = analyseGroups(
      VOLTAGE.means_uV.map((mean, i) => ({ mean, standardDeviation: VOLTAGE.deviations_uV[i] })),
      VOLTAGE.perDay,
    );
    expect(days.grandMean).toBeCloseTo(97, 0);
    expect(days.fromMeans / Math.sqrt(5)).toBeCloseTo(57, 0);
    expect(days.fromMeans).toBeCloseTo(128, 0);
    expect(days.within).toBeCloseTo(85, 0);
    expect(days.f).toBeCloseTo(2.26, 2);
    expect([days.degreesBetween, days.degreesWithin]).toEqual([9, 40]);
    expect(days.between).toBeCloseTo(43, 0);
    expect(days.u).toBeCloseTo(18, 0);
    expect(days.uPooled).toBeCloseTo(13, 0);
    expect(days.chance).toBeLessThan(0.05);
    expect(days.chance).toBeGreaterThan(0.025);
  });

  it('NIST SiRstv', () => {
    const result = analyseGroups(SILICON.map(summariseGroup), 5);
    expect(result.f).toBeCloseTo(1.18046237440255, 9);
    expect([result.degreesBetween, result.degreesWithin]).toEqual([4, 20]);
    expect(result.sumBetween).toBeCloseTo(5.11462616e-2, 10);
    expect(result.sumWithin).toBeCloseTo(2.1663656e-1, 10);
    expect(result.within).toBeCloseTo(0.104076068334656, 11);
    expect(result.sumBetween / (result.sumBetween + result.sumWithin)).toBeCloseTo(0.190999039051129, 9);
  });

  it('needs two groups of two', () => expect(() => analyseGroups([summariseGroup([1, 2])], 2)).toThrow(RangeError));
});

describe('analyseGauge', () => {
  const study = analyseGauge(GAUGE[0].map((_, part) => GAUGE.map((parts) => parts[part])));

  it('has the published sums of squares', () => {
    expect(study.sums.part).toBeCloseTo(88.3619, 4);
    expect(study.sums.operator).toBeCloseTo(3.1673, 4);
    expect(study.sums.interaction).toBeCloseTo(0.359, 4);
    expect(study.sums.error).toBeCloseTo(2.7589, 4);
    expect(study.sums.total).toBeCloseTo(94.6471, 4);
    expect(study.fInteraction).toBeCloseTo(0.4337, 4);
  });

  it('has the published components', () => {
    expect(study.repeatability).toBeCloseTo(0.1999, 4);
    expect(study.reproducibility).toBeCloseTo(0.2268, 4);
    expect(study.gauge).toBeCloseTo(0.3024, 4);
    expect(study.parts).toBeCloseTo(1.0423, 4);
    expect(study.total).toBeCloseTo(1.0853, 4);
    expect((100 * study.gauge) / study.total).toBeCloseTo(27.86, 2);
    expect(100 * (study.gauge / study.total) ** 2).toBeCloseTo(7.76, 2);
    expect(Math.floor((1.41 * study.parts) / study.gauge)).toBe(4);
  });
});
