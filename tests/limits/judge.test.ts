import { describe, expect, it } from 'vitest';
import { type Finding, judge, judgeValue } from '../../src/limits/judge.ts';
import { limitTerms } from '../../src/limits/tolerances.ts';
import { ASPECT, eyesOf, meridian, misalignmentOf } from './reading-of.ts';

const good = eyesOf(0.003, 0.002);

function findingsOf(
  terms: Parameters<typeof misalignmentOf>[0],
  { u = 1e-6, eyes = good, house = meridian(), withHouse = true } = {},
) {
  return judge({ misalignment: misalignmentOf(terms, u), eyes, house: withHouse ? house : undefined, aspect: ASPECT });
}

function pick(findings: readonly Finding[], code: Finding['code'], level: Finding['level'], seat: Finding['seat']) {
  const found = findings.filter((f) => f.code === code && f.level === level && f.seat === seat);
  expect(found).toHaveLength(1);
  return found[0];
}

describe('the verdict on an interval', () => {
  it.each([
    [0.5, 0.1, 'within'],
    [-0.5, 0.1, 'within'],
    [0.8, 0.1, 'within'],
    [0.81, 0.1, 'undecided'],
    [1.0, 0, 'within'],
    [1.19, 0.1, 'undecided'],
    [1.21, 0.1, 'outside'],
    [-1.21, 0.1, 'outside'],
    [0, 0.6, 'undecided'],
  ] as const)('%f +- 2 x %f against 1: %s', (value, u, verdict) => {
    expect(judgeValue({ value, u }, 1)).toBe(verdict);
  });

  it('negative values may have a limit of their own', () => {
    expect(judgeValue({ value: -2, u: 0.1 }, 1, 3)).toBe('within');
    expect(judgeValue({ value: 2, u: 0.1 }, 1, 3)).toBe('outside');
  });
});

describe('findings', () => {
  it('one vertical offset is outside for the nearest row and within for the reference seat', () => {
    const findings = findingsOf({ verticalOffset: 0.005 });
    expect(pick(findings, 'vertical-offset', 'working', 'nearest-row').verdict).toBe('outside');
    expect(pick(findings, 'vertical-offset', 'working', 'reference-seat').verdict).toBe('within');
    expect(pick(findings, 'vertical-offset', 'maximum', 'nearest-row').verdict).toBe('within');
  });

  it('the limit inside the 95 % interval leaves the verdict open', () => {
    const limit = limitTerms(meridian(), ASPECT).terms.verticalOffset;
    const verdict = (value: number) =>
      pick(findingsOf({ verticalOffset: value }, { u: 1e-4 }), 'vertical-offset', 'working', 'nearest-row').verdict;
    expect(verdict(limit - 2.1e-4)).toBe('within');
    expect(verdict(limit - 1.9e-4)).toBe('undecided');
    expect(verdict(limit + 1.9e-4)).toBe('undecided');
    expect(verdict(limit + 2.1e-4)).toBe('outside');
  });

  it('a roll is judged by the vertical disparity at the sides', () => {
    const rotation = 0.2 * (Math.PI / 180);
    const finding = pick(findingsOf({ rotation }), 'rotation', 'working', 'nearest-row');
    const edge_m = rotation * (10.4 / 2);
    expect(finding.value).toBeCloseTo((Math.atan(edge_m / 6.5) * 180 * 60) / Math.PI, 6);
    expect(finding.verdict).toBe('outside');
  });

  it('the one degree of roll is from memory and not confirmed', () => {
    const finding = pick(findingsOf({ rotation: 0.01 }), 'rotation', 'maximum', null);
    expect(finding).toMatchObject({ unit: 'deg', limit: 1, confirmed: false, verdict: 'within' });
    expect(finding.source).toContain('from memory, unconfirmed');
  });

  it('a right-eye picture further right is uncrossed, with the closer maximum', () => {
    const uncrossed = pick(findingsOf({ horizontalOffset: 0.018 }), 'horizontal-offset', 'maximum', 'nearest-row');
    const crossed = pick(findingsOf({ horizontalOffset: -0.018 }), 'horizontal-offset', 'maximum', 'nearest-row');
    expect([uncrossed.verdict, uncrossed.limit]).toEqual(['outside', 34.4]);
    expect([crossed.verdict, crossed.limit]).toEqual(['within', 60]);
    expect(uncrossed.source).not.toBe(crossed.source);
  });

  it('the working limit of horizontal shifts is alike both ways, but only one of them is published', () => {
    const uncrossed = pick(findingsOf({ horizontalOffset: 0.01 }), 'horizontal-offset', 'working', 'nearest-row');
    const crossed = pick(findingsOf({ horizontalOffset: -0.01 }), 'horizontal-offset', 'working', 'nearest-row');
    expect([uncrossed.verdict, uncrossed.limit, uncrossed.basis]).toEqual(['outside', 17.2, 'published']);
    expect([crossed.verdict, crossed.limit, crossed.basis]).toEqual(['outside', 17.2, 'computed']);
  });

  it('a size difference of 0.6 % is outside, of 0.4 % within', () => {
    expect(pick(findingsOf({ size: 0.006 }), 'size', 'working', null).verdict).toBe('outside');
    expect(pick(findingsOf({ size: -0.004 }), 'size', 'working', null).verdict).toBe('within');
  });

  it('keystone counts through the worst place in the picture', () => {
    const findings = findingsOf({ keystoneH: 0.01 });
    expect(pick(findings, 'vertical-offset', 'working', 'nearest-row').verdict).toBe('within');
    expect(pick(findings, 'worst-vertical', 'working', 'nearest-row').verdict).toBe('outside');
  });

  it('a limit of the house takes the place of the working limit and brings its source', () => {
    const house = meridian();
    house.tolerances = { crosstalk: { limit_pct: 0.5, source: 'House rule: 200 to 1' } };
    const findings = findingsOf({}, { house, eyes: eyesOf(0.008, 0.002) });
    expect(pick(findings, 'crosstalk-left', 'working', null)).toMatchObject({
      verdict: 'outside',
      limit: 0.5,
      source: 'House rule: 200 to 1',
      basis: 'house',
    });
    expect(pick(findings, 'crosstalk-right', 'working', null).verdict).toBe('within');
    expect(pick(findings, 'crosstalk-left', 'maximum', null).limit).toBe(5.8);
  });

  it('without a House the seats are assumed and flagged', () => {
    const findings = findingsOf({ verticalOffset: 0.01 }, { withHouse: false });
    const finding = pick(findings, 'vertical-offset', 'working', 'nearest-row');
    expect(finding.seatAssumed).toBe(true);
    expect(finding.value).toBeCloseTo(22.92, 2);
    expect(pick(findings, 'size', 'working', null).seatAssumed).toBe(false);
  });
});

describe('a ghost that is not alike all over', () => {
  const survey = (shape: 'even' | 'smooth' | 'patch', most: number) => ({
    shape,
    chance: 0,
    mean: { left: { value: 0.006, u: 1e-4 }, right: { value: 0.006, u: 1e-4 } },
    strongest: { value: most, u: 0.0005, at: { x: 0, y: 0 } },
  });
  const judged = { misalignment: misalignmentOf({}), eyes: good, house: undefined, aspect: ASPECT };

  it('is judged where it is strongest, though the mean of the marks is within', () => {
    const findings = judge({ ...judged, crosstalkSurvey: survey('patch', 0.08) });
    expect(pick(findings, 'local-ghost', 'working', null)).toMatchObject({ verdict: 'outside', limit: 1 });
    expect(pick(findings, 'local-ghost', 'maximum', null).value).toBeCloseTo(8, 9);
    expect(pick(findings, 'crosstalk-left', 'working', null).verdict).toBe('within');
    expect(
      pick(judge({ ...judged, crosstalkSurvey: survey('patch', 0.008) }), 'local-ghost', 'working', null).verdict,
    ).toBe('within');
  });

  it('is judged where it changes smoothly too, and nowhere where it is even', () => {
    const codes = (shape: 'even' | 'smooth') =>
      judge({ ...judged, crosstalkSurvey: survey(shape, 0.08) }).map(({ code }) => code as string);
    expect(codes('smooth')).toContain('local-ghost');
    expect(codes('even')).not.toContain('local-ghost');
  });
});

describe('a stray copy', () => {
  const stray = (value: number, u: number) => ({
    eye: 'left' as const,
    strength: { value, u },
    side: 'above' as const,
    beyond_ih: 0.7,
    over_ih: 0.3,
  });
  const judged = { misalignment: misalignmentOf({}), eyes: good, house: undefined, aspect: ASPECT };

  it('is judged by the strongest, and is no finding where there is none', () => {
    const findings = judge({ ...judged, strays: [stray(0.02, 0.001), stray(0.005, 0.0005)] });
    expect(pick(findings, 'stray-image', 'working', null)).toMatchObject({ verdict: 'outside', limit: 1, unit: 'pct' });
    expect(judge(judged).some(({ code }) => code === 'stray-image')).toBe(false);
  });

  it('weaker than 1 % it asks for nothing', () => {
    expect(pick(judge({ ...judged, strays: [stray(0.006, 0.0005)] }), 'stray-image', 'working', null).verdict).toBe(
      'within',
    );
  });
});

describe('the eyes', () => {
  it('the right way round they are a finding within', () => {
    const findings = findingsOf({});
    expect(pick(findings, 'eyes-exchanged', 'maximum', null).verdict).toBe('within');
    expect(findings.some((f) => f.code === 'no-polarization')).toBe(false);
  });

  it('exchanged they are outside, and the ghost is still judged by the leak', () => {
    const findings = findingsOf({}, { eyes: eyesOf(0.02, 0.003, 'swapped') });
    expect(pick(findings, 'eyes-exchanged', 'maximum', null)).toMatchObject({ verdict: 'outside', limit: 100 });
    expect(pick(findings, 'crosstalk-left', 'working', null).value).toBeCloseTo(2, 9);
    expect(pick(findings, 'crosstalk-right', 'working', null).verdict).toBe('within');
  });

  it('both pictures equally strong through both lenses: no polarization, eyes undecided', () => {
    const findings = findingsOf({}, { eyes: eyesOf(0.97, 0.99, 'undetermined') });
    expect(pick(findings, 'eyes-exchanged', 'maximum', null).verdict).toBe('undecided');
    expect(pick(findings, 'no-polarization', 'maximum', null)).toMatchObject({ verdict: 'outside' });
  });

  it('a leak through one lens alone is not a missing polarization', () => {
    const findings = findingsOf({}, { eyes: eyesOf(0.9, 0.01) });
    expect(findings.some((f) => f.code === 'no-polarization')).toBe(false);
  });
});
