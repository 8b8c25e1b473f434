import { describe, expect, it } from 'vitest';
import { analyseGauge, analyseGroups, summariseGroup } from '../../src/kernel/analysis-of-variance.ts';

describe('analyseGroups', () => {
  it('GUM H.5, the voltage standard: 10.000 097 V, 18 uV between days, 13 uV pooled', () => {
    const means = [172, 116, 13, 144, 106, 31, 60, 125, 163, 41];
    const deviations = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86];
    const days = analyseGroups(
      means.map((mean, i) => ({ mean, standardDeviation: deviations[i] })),
      5,
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

  // NIST StRD SiRstv; certified values as read in a public test file.
  it('NIST SiRstv', () => {
    const data = [
      [196.3052, 196.124, 196.189, 196.2569, 196.3403],
      [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
      [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
      [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
      [196.2119, 196.1051, 196.185, 196.0052, 196.209],
    ];
    const result = analyseGroups(data.map(summariseGroup), 5);
    expect(result.f).toBeCloseTo(1.18046237440255, 9);
    expect([result.degreesBetween, result.degreesWithin]).toEqual([4, 20]);
    expect(result.sumBetween).toBeCloseTo(5.11462616e-2, 10);
    expect(result.sumWithin).toBeCloseTo(2.1663656e-1, 10);
    expect(result.within).toBeCloseTo(0.104076068334656, 11);
    expect(result.sumBetween / (result.sumBetween + result.sumWithin)).toBeCloseTo(0.190999039051129, 9);
  });

  it('needs two groups of two', () => expect(() => analyseGroups([summariseGroup([1, 2])], 2)).toThrow(RangeError));
});

// AIAG, Measurement Systems Analysis, 4th ed., appendix; data as found in several public repositories.
const A = [
  [0.29, 0.41, 0.64],
  [-0.56, -0.68, -0.58],
  [1.34, 1.17, 1.27],
  [0.47, 0.5, 0.64],
  [-0.8, -0.92, -0.84],
  [0.02, -0.11, -0.21],
  [0.59, 0.75, 0.66],
  [-0.31, -0.2, -0.17],
  [2.26, 1.99, 2.01],
  [-1.36, -1.25, -1.31],
];
const B = [
  [0.08, 0.25, 0.07],
  [-0.47, -1.22, -0.68],
  [1.19, 0.94, 1.34],
  [0.01, 1.03, 0.2],
  [-0.56, -1.2, -1.28],
  [-0.2, 0.22, 0.06],
  [0.47, 0.55, 0.83],
  [-0.63, 0.08, -0.34],
  [1.8, 2.12, 2.19],
  [-1.68, -1.62, -1.5],
];
const C = [
  [0.04, -0.11, -0.15],
  [-1.38, -1.13, -0.96],
  [0.88, 1.09, 0.67],
  [0.14, 0.2, 0.11],
  [-1.46, -1.07, -1.45],
  [-0.29, -0.67, -0.49],
  [0.02, 0.01, 0.21],
  [-0.46, -0.56, -0.49],
  [1.77, 1.45, 1.87],
  [-1.49, -1.77, -2.16],
];

describe('analyseGauge', () => {
  const study = analyseGauge(A.map((a, i) => [a, B[i], C[i]]));

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
