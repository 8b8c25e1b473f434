import { describe, expect, it } from 'vitest';
import { judgeOverall, listLeftAfterTurns, listNeededMotion, rateMark } from '../../src/record/judge-reading.ts';
import { sampleFinding, sampleReading } from '../report/sample-reading.ts';

const finding = (verdict: 'within' | 'outside' | 'undecided', level: 'working' | 'maximum' = 'working') =>
  sampleFinding({ code: 'size', value: 1, u: 1, limit: 1, verdict, level });

const { eyes } = sampleReading;
const seen = { ...eyes, assignment: 'correct' as const, matrix: undefined };
const notLookedAt = {
  assignment: 'not-looked-at',
  crosstalk_left_pct: null,
  crosstalk_right_pct: null,
  leak_left_lens_pct: null,
  leak_right_lens_pct: null,
} as const;

describe('the verdict for the whole', () => {
  it.each([
    [[], 'within'],
    [[finding('within'), finding('undecided')], 'undecided'],
    [[finding('outside'), finding('undecided'), finding('within')], 'outside'],
    [[finding('within'), finding('outside', 'maximum')], 'outside'],
    [[finding('within'), finding('undecided', 'maximum')], 'within'],
  ])('one broken limit breaks it (%#)', (findings, verdict) => {
    expect(judgeOverall({ findings, eyes: seen })).toBe(verdict);
  });

  it.each([
    ['swapped', { ...seen, assignment: 'swapped' as const }, 'outside'],
    ['undetermined', { ...seen, assignment: 'undetermined' as const }, 'undecided'],
    ['one missing', { ...seen, matrix: { ...eyes.matrix!, class: 'one-eye-missing' as const } }, 'outside'],
    ['both in both', { ...seen, matrix: { ...eyes.matrix!, class: 'both-in-both' as const } }, 'undecided'],
    ['not looked at', notLookedAt, 'geometry-within'],
  ])('however good the geometry, eyes that are %s are never within', (_, of, verdict) => {
    expect(judgeOverall({ findings: [finding('within')], eyes: of })).toBe(verdict);
  });
});

it('carries each limit over to the unit of its term, at the nearest seat', () => {
  const left = listLeftAfterTurns(sampleReading);
  const vertical = left.find(({ field }) => field === 'vertical_offset_pct')!;
  const { seat, limit } = sampleReading.findings.find(
    ({ code, level }) => code === 'vertical-offset' && level === 'working',
  )!;
  // atan(d / distance), proportional to better than one in ten thousand at such angles.
  const distance_ih = sampleReading.house[seat === 'nearest-row' ? 'nearest_row_ih' : 'reference_seat_ih'];
  const expected = 100 * distance_ih * Math.tan(((limit / 60) * Math.PI) / 180);
  expect(vertical.limit! / expected).toBeCloseTo(1, 1);
  expect(vertical.now).toBe(sampleReading.misalignment.vertical_offset_pct.value);
  expect(vertical.after).toBe(sampleReading.predicted_after.vertical_offset_pct);
  expect(vertical.isInsideAfter).toBe(Math.abs(vertical.after) <= vertical.limit!);
});

it('lists each judged term once', () => {
  const fields = listLeftAfterTurns(sampleReading).map(({ field }) => field);
  expect(new Set(fields).size).toBe(fields.length);
  expect(fields).toContain('worst_vertical_pct');
});

describe('the worth of a mark', () => {
  it('weighs each axis in its own uncertainty', () => {
    const worth = rateMark({ ...sampleReading.evidence.marks[0]!, u_px: [0.01, 0.02], residual_px: [0.03, 0.08] });
    expect(worth.ratio).toBeCloseTo(5, 12);
    expect(worth.residual_px).toBeCloseTo(Math.hypot(0.03, 0.08), 12);
    expect(worth.u_px).toBeCloseTo(Math.sqrt((0.0001 + 0.0004) / 2), 12);
  });

  it('stands out beyond what 99 of 100 stay within, and is left out only where the fit says so', () => {
    // 99 % of a two-dimensional normal distribution lie within 3.035 standard deviations.
    expect(
      rateMark({ ...sampleReading.evidence.marks[0]!, u_px: [0.01, 0.02], residual_px: [0.0303, 0] }).standing,
    ).toBe('usual');
    expect(
      rateMark({ ...sampleReading.evidence.marks[0]!, u_px: [0.01, 0.02], residual_px: [0.0304, 0] }).standing,
    ).toBe('stands-out');
    expect(rateMark({ ...sampleReading.evidence.marks[0]!, u_px: [0.01, 0.02], used: false }).standing).toBe(
      'left-out',
    );
  });
});

it('names the motions that are needed, those of terms that are not within, for both pictures', () => {
  const image_motion = [
    { eye: 'left' as const, vertical_pct: 0.27, horizontal_pct: 0.14, rotation_deg: 0.01 },
    { eye: 'right' as const, vertical_pct: -0.27, horizontal_pct: -0.14, rotation_deg: -0.01 },
  ];
  expect(listNeededMotion({ ...sampleReading, image_motion })).toEqual([
    { eye: 'left', vertical_pct: 0.27, horizontal_pct: 0, rotation_deg: 0 },
    { eye: 'right', vertical_pct: -0.27, horizontal_pct: 0, rotation_deg: 0 },
  ]);
  // Nothing judged: what is surely there.
  const unsure = { ...sampleReading.misalignment, rotation_deg: { value: 0.02, u: 0.02 } };
  expect(listNeededMotion({ image_motion, misalignment: unsure, findings: [] })[0]).toEqual({
    eye: 'left',
    vertical_pct: 0.27,
    horizontal_pct: 0.14,
    rotation_deg: 0,
  });
});
