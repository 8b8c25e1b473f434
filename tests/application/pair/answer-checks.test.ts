import { describe, expect, it } from 'vitest';
import { answerChecks } from '../../../src/application/pair/describe-causes.ts';
import { describeDiagnosis } from '../../../src/application/pair/describe-causes.ts';
import { diagnose } from '../../../src/diagnosis/diagnose.ts';
import { judge } from '../../../src/limits/judge.ts';
import { TERM_FIELDS } from '../../../src/record/term-fields.ts';
import { TERMS } from '../../../src/geometry/misalignment.ts';
import { toFileUnit } from '../../../src/application/pair/terms-of-reading.ts';
import { ASPECT, eyesOf, meridian, misalignmentOf } from '../../limits/reading-of.ts';
import { sampleReading, sampleRefusal } from '../../report/sample-reading.ts';

const house = meridian();
const misalignment = misalignmentOf({ size: 0.008 });
const eyes = eyesOf(0.0443, 0.0012);
const judged = { misalignment, eyes, house, aspect: ASPECT, upperPortShows: 'right' as const };
const findings = judge(judged);
const percent = ({ value, u }: { value: number; u: number }) => ({ value: 100 * value, u: 100 * u });
const reading = {
  outcome: 'measured' as const,
  house: { ...sampleReading.house, aspect: ASPECT },
  misalignment: {
    ...sampleReading.misalignment,
    ...Object.fromEntries(
      TERMS.map((term, i) => {
        const { value, u } = misalignment.terms[term];
        return [TERM_FIELDS[i], { value: toFileUnit(term, value), u: toFileUnit(term, u) }];
      }),
    ),
  },
  eyes: {
    assignment: eyes.assignment,
    crosstalk_left_pct: percent(eyes.crosstalkLeft),
    crosstalk_right_pct: percent(eyes.crosstalkRight),
    leak_left_lens_pct: percent(eyes.leakLeftLens),
    leak_right_lens_pct: percent(eyes.leakRightLens),
  },
  findings: findings.map(({ seatAssumed, ...finding }) => ({ ...finding, seat_assumed: seatAssumed })),
};

describe('answers of checks', () => {
  it('none: the causes are those that the measurement found', () => {
    const measured = describeDiagnosis(diagnose(judged, findings));
    const again = answerChecks(reading, house, []);
    expect(again.causes.map(({ code }) => code)).toEqual(measured.causes.map(({ code }) => code));
    again.causes.forEach(({ probability }, i) => {
      expect(probability).toBeCloseTo(measured.causes[i]!.probability!, 8);
    });
    expect(again.next_check!.code).toBe(measured.next_check!.code);
  });

  it('each one feeds back, until the causes are decided', () => {
    const answers = [
      { check: 'repeat-with-known-glasses', answer: 'right-then' },
      { check: 'measure-path-lengths', answer: 'paths-differ' },
    ] as const;
    const after = answerChecks(reading, house, answers);
    const decided = after.causes.filter(({ undecided }) => !undecided).map(({ code }) => code);
    expect(decided.toSorted()).toEqual(['glasses-lens-turned', 'path-lengths-differ']);
  });

  it('how the leak lies over the picture and stray copies are taken from the reading', () => {
    const cell = (value: number) => ({ value, u: 0.02 });
    const map = Array.from({ length: 15 }, (_, i) => cell(i === 6 || i === 7 ? 20 : 0.4));
    const strengths = { left_picture_pct: cell(100), right_picture_pct: cell(1) };
    const matrix = {
      class: 'undecided' as const,
      left_lens: strengths,
      right_lens: strengths,
      map: { columns: 5, rows: 3, left_lens_pct: map, right_lens_pct: map },
    };
    const outside = (code: string) => ({ ...reading.findings[0]!, code, verdict: 'outside' as const });
    const stray = {
      eye: 'left' as const,
      shot: 'left-lens' as const,
      offset_ih: [0, 0.7] as const,
      u_ih: [0.001, 0.001] as const,
      strength_pct: { value: 2, u: 0.1 },
      side: 'above' as const,
      beyond_ih: 0.7,
      over_ih: 0.3,
      marks: 20,
    };
    const { causes } = answerChecks(
      {
        ...reading,
        eyes: { ...reading.eyes, leak_left_lens_pct: cell(0.4), crosstalk_left_pct: cell(0.4), matrix },
        strays: [stray],
        findings: [outside('local-ghost'), outside('stray-image')] as typeof reading.findings,
      },
      house,
      [],
    );
    expect(causes[0]!.code).toBe('screen-patch-depolarizes');
    expect(causes.at(-1)).toMatchObject({ code: 'stray-image', check_code: 'watch-stray-while-masking' });
  });

  it('after a refusal too', () => {
    const refusal = { ...sampleRefusal.refusal, code: 'same-eye-twice', facts: { eye: 'right' } };
    const answers = [{ check: 'look-at-screen-without-glasses', answer: 'one-picture-only' }] as const;
    const { causes } = answerChecks({ outcome: 'refused', refusal }, undefined, answers);
    expect(causes[0]).toMatchObject({
      code: 'picture-missing',
      undecided: false,
      evidence: [{ name: 'missing_picture', value: 'left' }],
    });
  });
});
