import { describe, expect, it } from 'vitest';
import { angleOfLeak } from '../../src/diagnosis/cause-evidence.ts';
import { CAUSE_CODES } from '../../src/diagnosis/cause-row.ts';
import type { CheckAnswer } from '../../src/diagnosis/choose-check.ts';
import { LIGHT_ROWS, SHAPE_ROWS } from '../../src/diagnosis/decision-table.ts';
import { type Cause, DECIDED_FROM, diagnose, diagnoseRefusal } from '../../src/diagnosis/diagnose.ts';
import { predictHalfFrameOffset } from '../../src/geometry/film-frame.ts';
import type { Eyes } from '../../src/light/eyes.ts';
import type { CrosstalkShape, CrosstalkSurvey } from '../../src/light/survey-crosstalk.ts';
import { judge, type SeenStray } from '../../src/limits/judge.ts';
import { ASPECT, eyesOf, meridian, misalignmentOf } from '../limits/reading-of.ts';

const CAUSE_ROWS = [...LIGHT_ROWS, ...SHAPE_ROWS];

const good = eyesOf(0.003, 0.002);

interface Seen {
  readonly terms?: Parameters<typeof misalignmentOf>[0];
  readonly eyes?: Eyes;
  /** Centre-to-centre distance; null: no house is known. */
  readonly cc?: number | null;
  readonly answers?: readonly CheckAnswer[];
  readonly crosstalkShape?: CrosstalkShape;
  readonly strays?: readonly SeenStray[];
}

/** Both leaks are the means over the picture; in one place they are five times as strong. */
function surveyOf(shape: CrosstalkShape, { leakLeftLens, leakRightLens }: Eyes): CrosstalkSurvey {
  const most = { value: 2.5 * (leakLeftLens.value + leakRightLens.value), u: 1e-4, at: { x: -0.9, y: 0.33 } };
  return {
    shape,
    chance: shape === 'even' ? 0.5 : 0,
    mean: { left: leakLeftLens, right: leakRightLens },
    strongest: most,
  };
}

function diagnosisOf({ terms = {}, eyes = good, cc = 0.375, answers, crosstalkShape, strays }: Seen) {
  const house = meridian();
  if (cc !== null) house.film.centre_to_centre_in = cc;
  const evidence = {
    misalignment: misalignmentOf(terms),
    eyes,
    crosstalkSurvey: crosstalkShape && surveyOf(crosstalkShape, eyes),
    strays,
    house: cc === null ? undefined : house,
    aspect: ASPECT,
    upperPortShows: 'right' as const,
  };
  return diagnose(evidence, judge(evidence), { answers });
}

const causesOf = (seen: Seen) => diagnosisOf(seen).causes;
const codes = (causes: readonly Cause[]) => causes.map((cause) => cause.code);
const figure = (cause: Cause, name: string) => cause.evidence.find((item) => item.name === name)?.value;

describe('the angle that explains a leak', () => {
  // Computed from Malus's law: leak = tan^2(phi).
  it.each([
    [0.000305, 1],
    [0.001219, 2],
    [0.007654, 5],
    [0.01, 5.71],
    [0.03109, 10],
    [1, 45],
  ])('a leak of %f: %f degrees', (leak, deg) => {
    expect(angleOfLeak({ value: leak, u: 0 }).value).toBeCloseTo(deg, 2);
  });

  it('has the uncertainty of the slope, and a finite one without any leak', () => {
    const h = 1e-7;
    const slope =
      (angleOfLeak({ value: 0.02 + h, u: 0 }).value - angleOfLeak({ value: 0.02 - h, u: 0 }).value) / (2 * h);
    expect(angleOfLeak({ value: 0.02, u: 1e-4 }).u).toBeCloseTo(slope * 1e-4, 8);
    expect(angleOfLeak({ value: -0.001, u: 1e-3 }).u).toBeLessThan(2);
  });
});

describe('causes', () => {
  it('there are none where nothing is outside, and nothing to check', () => {
    expect(diagnosisOf({ terms: { verticalOffset: 0.001 } })).toEqual({ causes: [], nextCheck: undefined });
  });

  it('a vertical offset alone needs a screw, not a cause', () => {
    expect(causesOf({ terms: { verticalOffset: 0.02 } })).toEqual([]);
  });

  it('no polarization: the polarizers first, and no verdict among what makes the same photographs', () => {
    const causes = causesOf({ eyes: eyesOf(0.97, 0.99, 'undetermined') });
    expect(codes(causes)[0]).toBe('polarizers-missing');
    expect(codes(causes)).toEqual(expect.arrayContaining(['polarization-kinds-mixed', 'camera-filters-missing']));
    expect(causes.every(({ undecided }) => undecided)).toBe(true);
  });

  it('exchanged eyes without the offset that half a frame would make: polarizers or glasses', () => {
    expect(codes(causesOf({ eyes: eyesOf(0.003, 0.002, 'swapped'), cc: 0.387 }))).toEqual([
      'polarizers-exchanged',
      'camera-filters-exchanged',
    ]);
  });

  it('exchanged eyes where half a frame makes hardly an offset: that too', () => {
    const causes = causesOf({ eyes: eyesOf(0.003, 0.002, 'swapped'), cc: 0.375 });
    expect(codes(causes)).toEqual(['polarizers-exchanged', 'camera-filters-exchanged', 'half-frame-threading']);
    expect(causes.every(({ undecided }) => undecided)).toBe(true);
  });

  it.each([0.387, null])('exchanged eyes with the offset of half a frame: the threading, decided (film %s)', (cc) => {
    const film = { ...meridian().film, centre_to_centre_in: 0.387 };
    const predicted = predictHalfFrameOffset(film, ASPECT, 'right');
    const [first] = causesOf({
      terms: { verticalOffset: 0.9 * predicted },
      eyes: eyesOf(0.003, 0.002, 'swapped'),
      cc,
    });
    expect(first!.code).toBe('half-frame-threading');
    expect(first!.undecided).toBe(false);
    expect(first!.explains).toContain('eyes-exchanged');
    if (cc !== null) expect(figure(first!, 'half_frame_vertical_offset_pct')).toBeCloseTo(7.41, 1);
  });

  it("a ghost through the left lens: the right-eye picture's polarizer, that lens or that path, undecided", () => {
    const causes = causesOf({ eyes: eyesOf(0.0443, 0.0012) });
    expect(codes(causes)).toEqual(['projector-polarizer-turned', 'glasses-lens-turned', 'one-path-depolarizes']);
    expect(causes.every(({ undecided, explains }) => undecided && explains.join() === 'crosstalk-left')).toBe(true);
    expect(figure(causes[0]!, 'polarizer_of_picture')).toBe('right');
    expect(figure(causes[1]!, 'lens')).toBe('left');
    expect(figure(causes[0]!, 'polarizer_angle_deg')).toBeCloseTo(12, 1);
  });

  it('with the eyes exchanged, the ghost through the left lens is of the left-eye picture', () => {
    const turned = causesOf({ eyes: eyesOf(0.04, 0.003, 'swapped') }).find(
      ({ code }) => code === 'projector-polarizer-turned',
    )!;
    expect(figure(turned, 'polarizer_of_picture')).toBe('left');
    expect(turned.explains).toEqual(['crosstalk-left']);
  });

  it('a large ghost alike in both is the screen, glasses being held better than that; a smaller one the glasses', () => {
    expect(codes(causesOf({ eyes: eyesOf(0.07, 0.07) }))[0]).toBe('screen-depolarizes');
    expect(codes(causesOf({ eyes: eyesOf(0.02, 0.019) }))[0]).toBe('glasses-tilted');
  });

  it('where the ghost stands in one place, the screen has a patch; where it changes smoothly, the port glass', () => {
    const eyes = eyesOf(0.03, 0.029);
    expect(codes(causesOf({ eyes, crosstalkShape: 'patch' }))[0]).toBe('screen-patch-depolarizes');
    expect(codes(causesOf({ eyes, crosstalkShape: 'smooth' }))[0]).toBe('port-glass-strained');
  });

  it('a ghost in one place is a finding of its own that the patch explains, with its place and strength', () => {
    const [first] = causesOf({ eyes: eyesOf(0.009, 0.008), crosstalkShape: 'patch' });
    expect(first!.code).toBe('screen-patch-depolarizes');
    expect(first!.explains).toEqual(['local-ghost']);
    expect(figure(first!, 'place')).toBe('upper-left');
    expect(figure(first!, 'leak_where_strongest_pct')).toBeCloseTo(4.25, 9);
  });

  it('a leak that lies evenly speaks against patch and pane', () => {
    const even = causesOf({ eyes: eyesOf(0.03, 0.029), crosstalkShape: 'even' });
    const unknown = causesOf({ eyes: eyesOf(0.03, 0.029) });
    const chance = (causes: readonly Cause[], code: string) => causes.find((c) => c.code === code)?.probability ?? 0;
    for (const code of ['screen-patch-depolarizes', 'port-glass-strained'])
      expect(chance(even, code)).toBeLessThan(0.6 * chance(unknown, code));
  });

  it('a stray copy stands at the end of the list, with the place to mask', () => {
    const strays = [
      { eye: 'left', strength: { value: 0.03, u: 0.001 }, side: 'above', beyond_ih: 0.7, over_ih: 0.3 },
      { eye: 'right', strength: { value: 0.004, u: 0.0004 }, side: 'left', beyond_ih: 0.4, over_ih: 1.95 },
    ] as const;
    const [first, second, ...more] = causesOf({ terms: { keystoneH: 0.02 }, strays });
    expect(first!.code).toBe('attachment-off-axis');
    expect(second).toMatchObject({ code: 'stray-image', undecided: false, check: 'watch-stray-while-masking' });
    expect(figure(second!, 'stray_beyond_pct')).toBeCloseTo(70, 9);
    expect(figure(second!, 'stray_over_pct')).toBeCloseTo(30, 9);
    expect(more).toEqual([]);
  });

  it('a size difference of 0.6 % is a path difference of 162 mm at 27 m', () => {
    const causes = causesOf({ terms: { size: 0.006 } });
    expect(codes(causes).slice(0, 2)).toEqual(['path-lengths-differ', 'lens-elements-differ']);
    expect(figure(causes[0]!, 'path_difference_mm')).toBeCloseTo(162, 6);
  });

  it('size with stretch: a mirror that is not flat', () => {
    expect(codes(causesOf({ terms: { size: 0.007, stretch: 0.005 } }))[0]).toBe('mirror-not-flat');
  });

  it('keystone beyond the limit: the attachment off the axis; stretch: a strained mirror', () => {
    expect(codes(causesOf({ terms: { keystoneH: 0.02 } }))).toEqual(['attachment-off-axis']);
    expect(codes(causesOf({ terms: { stretch: 0.01, shear: 0.006 } }))[0]).toBe('mirror-strained');
  });

  it('is never sure of a ghost that a house without a fault may have', () => {
    for (const leak of [0.011, 0.012, 0.013]) {
      const causes = causesOf({ eyes: eyesOf(leak, leak * 0.9) });
      expect(codes(causes)).toContain('nothing-broken');
      expect(causes.every(({ undecided }) => undecided)).toBe(true);
    }
  });

  it('calls a cause undecided below four to one', () => {
    for (const { probability, undecided } of causesOf({ eyes: eyesOf(0.05, 0.02) })) {
      expect(undecided).toBe(probability < DECIDED_FROM);
    }
  });
});

describe('the next check', () => {
  const eyes = eyesOf(0.0443, 0.0012);

  it('is one that a seat in the house allows, where it tells as much as a ladder', () => {
    expect(diagnosisOf({ eyes: eyesOf(0.07, 0.07) }).nextCheck!.code).toBe('roll-glasses-both-ways');
    expect(diagnosisOf({ eyes }).nextCheck!.code).toBe('repeat-with-known-glasses');
  });

  it('its answer decides', () => {
    const right = diagnosisOf({ eyes, answers: [{ check: 'repeat-with-known-glasses', answer: 'right-then' }] });
    expect(right.causes[0]!.code).toBe('glasses-lens-turned');
    expect(right.causes[0]!.undecided).toBe(false);
    const asBefore = diagnosisOf({ eyes, answers: [{ check: 'repeat-with-known-glasses', answer: 'as-before' }] });
    expect(asBefore.causes[0]!.code).toBe('projector-polarizer-turned');
    expect(asBefore.nextCheck?.code).not.toBe('repeat-with-known-glasses');
  });

  it('there is none where the causes are decided', () => {
    expect(diagnosisOf({ terms: { keystoneH: 0.02 } }).nextCheck).toBeUndefined();
  });

  it('refuses an answer that no check has', () => {
    expect(() => diagnosisOf({ eyes, answers: [{ check: 'level-the-glasses', answer: 'perhaps' }] })).toThrow(
      'no answer',
    );
  });
});

describe('causes of photographs that cannot be measured', () => {
  it('mirrored pictures: the film turned over before a mirrored file', () => {
    expect(codes(diagnoseRefusal('mirrored', {}).causes)).toEqual(['film-turned-over', 'photograph-mistaken']);
  });

  it('one picture twice: a mistake, or the other picture missing; a look without glasses tells', () => {
    const { causes, nextCheck } = diagnoseRefusal('same-eye-twice', { shown: 'left' });
    expect(codes(causes)).toEqual(['photograph-mistaken', 'picture-missing']);
    expect(figure(causes[1]!, 'missing_picture')).toBe('right');
    expect(nextCheck!.code).toBe('look-at-screen-without-glasses');
    const answered = diagnoseRefusal('same-eye-twice', { shown: 'left' }, [
      { check: 'look-at-screen-without-glasses', answer: 'one-picture-only' },
    ]);
    expect(codes(answered.causes)[0]).toBe('picture-missing');
  });

  it('a blurred photograph says nothing of the house', () => {
    expect(diagnoseRefusal('blurred', { lens: 'left' }).causes).toEqual([]);
  });
});

describe('the decision table', () => {
  it('has a row for every cause, but for what is seen and not weighed, and that nothing is broken', () => {
    expect(CAUSE_ROWS.map(({ code }) => code).toSorted()).toEqual(
      CAUSE_CODES.filter((code) => code !== 'nothing-broken' && code !== 'stray-image').toSorted(),
    );
  });

  it('has no certain and no impossible prior, and a reason for each', () => {
    for (const { prior, because } of CAUSE_ROWS) {
      expect(prior).toBeGreaterThan(0);
      expect(prior).toBeLessThan(0.2);
      expect(because.length).toBeGreaterThan(10);
    }
  });
});
