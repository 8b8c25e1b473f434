import { describe, expect, it } from 'vitest';
import type { ComparedLenses } from '../../../src/application/pair/compare-lenses.ts';
import { composeMeasured, composeRefused, type MeasuredParts } from '../../../src/application/pair/compose-reading.ts';
import type { PictureObservation } from '../../../src/application/pair/observe-pictures.ts';
import { relatePair } from '../../../src/application/pair/relate-pictures.ts';
import type { ExaminedPhotograph, ExaminedShot } from '../../../src/application/shot/examine-shot.ts';
import { diagnose } from '../../../src/diagnosis/diagnose.ts';
import type { FittedViews } from '../../../src/geometry/fit-views.ts';
import { type Misalignment, TERMS } from '../../../src/geometry/misalignment.ts';
import type { Pixels } from '../../../src/imaging/pixels.ts';
import type { Eye } from '../../../src/kernel/eye.ts';
import { refuse } from '../../../src/kernel/refusal.ts';
import { project } from '../../../src/kernel/view.ts';
import { judge } from '../../../src/limits/judge.ts';
import type { Photo } from '../../../src/photo/photo.ts';
import { reading as readingSchema, TERM_FIELDS } from '../../../src/record/reading.ts';
import { layoutChart } from '../../../src/target/chart.ts';
import { advise } from '../../../src/turns/advise.ts';
import type { MeasuredMark } from '../../../src/vision/measure-marks.ts';
import { translateReading } from '../../../src/wording/reading.ts';
import { ASPECT, eyesOf, LENS, OBLIQUE, PHOTO } from '../../geometry/misaligned-views.ts';
import { eyesOf as leaksOf, meridian, misalignmentOf } from '../../limits/reading-of.ts';

const chart = layoutChart(ASPECT);
const views = eyesOf(OBLIQUE, [1, 0, 0, 0, 1, 0.004, 0, 0, 1]);
const blank: Pixels = { ...PHOTO, channels: 1, data: new Uint8Array(0) };

function marksOf(eye: Eye): MeasuredMark[] {
  return chart.marks
    .filter((mark) => mark.eye === eye)
    .map((mark, i) => ({
      mark,
      centre: project({ photoFromChart: views[eye], lens: LENS }, mark),
      covariance: [1e-4, 2e-5, 4e-4],
      contrast: 0.5,
      contrastU: 0.001,
      dark: 0.01,
      blur_px: 1,
      clipped: eye === 'left' && i < 2,
    }));
}

function shotOf(eye: Eye, blur_px: number, marks = marksOf(eye)): ExaminedShot {
  const own = eye === 'left' ? { left: marks, right: [] } : { left: [], right: marks };
  return {
    outcome: 'examined',
    pixels: blank,
    fit: { views: { [eye]: { photoFromChart: views[eye], lens: LENS } } } as unknown as FittedViews,
    marks: own,
    blur_px,
    places: [],
  };
}

/** The right one does not tell its exposure. */
const cameras = [{ exposureTime_s: 0.5, fNumber: 4, iso: 400 }, { iso: 400 }];
const files = ['a.jpg', 'b.jpg'].map(
  (file, i) => ({ file, sha256: `${i}`.repeat(64), camera: cameras[i], ...PHOTO }) as unknown as Photo,
);

type Shots = Readonly<Record<Eye, ExaminedShot>>;
const NOTHING: PictureObservation = { commonU: 0, strengths: [], surface: undefined, marks: [], leak: [] };
const UNSEEN = { left: NOTHING, right: NOTHING };

const photographsOf = (shots: Shots): Readonly<Record<Eye, ExaminedPhotograph>> => ({
  left: { role: 'left-lens', photo: files[0]!, shot: shots.left },
  right: { role: 'right-lens', photo: files[1]!, shot: shots.right },
});

/** Parts, or the shots that they are of. */
type SomeParts = Partial<MeasuredParts> & { readonly shots?: Shots; readonly misalignment?: Misalignment };

function partsOf({
  shots = { left: shotOf('left', 0.9), right: shotOf('right', 1.3) },
  ...some
}: SomeParts = {}): MeasuredParts {
  const photographs = photographsOf(shots);
  const house = 'house' in some ? some.house : meridian();
  const eyes = leaksOf(0.02, 0.05);
  const misalignment =
    some.misalignment ??
    misalignmentOf({
      verticalOffset: 0.004,
      horizontalOffset: -0.003,
      rotation: 0.002,
      size: 0.001,
      stretch: -0.0006,
      shear: 0.0005,
      keystoneH: 0.0004,
      keystoneV: -0.0003,
    });
  const judged = { misalignment, eyes, house, aspect: ASPECT };
  const findings = judge(judged);
  const compared: ComparedLenses = {
    outcome: 'compared',
    photographs,
    views: { left: { photoFromChart: views.left, lens: LENS }, right: { photoFromChart: views.right, lens: LENS } },
    observations: { left: UNSEEN, right: UNSEEN },
    eyes,
    matrix: {
      class: 'one-sided-leak',
      strengths: {
        left: { left: { value: 0.8, u: 0.016 }, right: { value: 0.016, u: 0.001 } },
        right: { left: { value: 0.003, u: 0.0001 }, right: { value: 1, u: 0 } },
      },
      maps: {
        left: Array.from({ length: 15 }, (_, i) => (i === 3 ? null : { value: 0.02, u: 0.001 })),
        right: Array.from({ length: 15 }, () => ({ value: 0.003, u: 0.0001 })),
      },
    },
    steadiness: {
      shift_px: { x: 0.02, y: 0 },
      size: { value: 0, u: 1e-5 },
      movement_px: { value: 0.02, u: 0.01 },
      chance: 0.3,
      chanceOfWeave: 0.3,
    },
    movement_ih: 0,
    isSteadinessKnown: true,
    strays: [
      {
        eye: 'left',
        lens: 'right',
        offset: { x: { value: 0.02, u: 0.001 }, y: { value: -0.7, u: 0.002 } },
        strength: { value: 0.006, u: 0.0006 },
        marks: 20,
        side: 'below',
        beyond_ih: 0.7,
        over_ih: 0.3,
      },
    ],
  };
  const related = relatePair([photographs.left, photographs.right], compared, { house, aspect: ASPECT });
  if (related.outcome === 'refused') throw new Error(related.code);
  return {
    softwareVersion: '0.1.0',
    photographs: [photographs.left, photographs.right],
    leftOut: [],
    house,
    chart,
    compared,
    relation: { ...related, misalignment },
    findings,
    diagnosis: diagnose({ ...judged, upperPortShows: 'right' }, findings),
    advice: advise({ misalignment, house, aspect: ASPECT, eyesExchanged: false }),
    ...some,
  };
}

describe('composeMeasured', () => {
  const parts = partsOf();
  const composed = composeMeasured(parts);

  it('lists stray copies with what masking needs to know of them', () => {
    expect(composed.strays).toHaveLength(1);
    const [stray] = composed.strays!;
    expect(stray).toMatchObject({ eye: 'left', shot: 'right-lens', offset_ih: [0.02, -0.7], side: 'below', marks: 20 });
    expect(stray!.strength_pct.value).toBeCloseTo(0.6, 12);
    expect(stray!.beyond_ih).toBeCloseTo(0.7, 12);
    expect(stray!.over_ih).toBeCloseTo(0.3, 12);
  });

  it('gives the eye matrix in percent, with its map and what is not known in it', () => {
    const { matrix } = composed.eyes;
    expect(matrix).toMatchObject({ class: 'one-sided-leak', map: { columns: 5, rows: 3 } });
    expect(matrix!.left_lens.right_picture_pct.value).toBeCloseTo(1.6, 12);
    expect(matrix!.right_lens.right_picture_pct).toEqual({ value: 100, u: 0 });
    expect(matrix!.map.left_lens_pct[3]).toBeNull();
    expect(matrix!.map.left_lens_pct[4]!.value).toBeCloseTo(2, 12);
    expect(matrix!.map.right_lens_pct).toHaveLength(15);
  });

  it('gives each picture’s light where it shows most, with the exposure where the file tells it', () => {
    const { left_picture, right_picture } = composed.eyes.light!;
    expect(left_picture).toMatchObject({ strength_pct: { value: 100 }, exposure: 12.5 });
    expect(right_picture).toMatchObject({ strength_pct: { value: 100 }, exposure: null });
  });

  it('gives fractions and ih in percent, radians in degrees, each with its uncertainty', () => {
    const { misalignment } = composed;
    expect(misalignment.vertical_offset_pct.value).toBeCloseTo(0.4, 12);
    expect(misalignment.horizontal_offset_pct.value).toBeCloseTo(-0.3, 12);
    expect(misalignment.rotation_deg.value).toBeCloseTo((0.002 * 180) / Math.PI, 12);
    expect(misalignment.rotation_deg.u).toBeCloseTo((1e-6 * 180) / Math.PI, 15);
    expect(misalignment.size_pct.value).toBeCloseTo(0.1, 12);
    expect(misalignment.stretch_pct.value).toBeCloseTo(-0.06, 12);
    expect(misalignment.shear_pct.value).toBeCloseTo(0.05, 12);
    expect(misalignment.keystone_h_pct.value).toBeCloseTo(0.04, 12);
    expect(misalignment.keystone_v_pct.value).toBeCloseTo(-0.03, 12);
    for (const field of TERM_FIELDS) if (field !== 'rotation_deg') expect(misalignment[field].u).toBeCloseTo(1e-4, 12);
  });

  it('has a field for each term, in the order of the terms', () => {
    expect(TERM_FIELDS).toHaveLength(TERMS.length);
    TERMS.forEach((term, i) => {
      const name = TERM_FIELDS[i].replace(/_(pct|deg)$/, '').replace(/_([a-z])/g, (_, letter) => letter.toUpperCase());
      expect(name).toBe(term);
    });
  });

  it('gives the worst place with its chart point', () => {
    const { worst_vertical_pct } = composed.misalignment;
    const { value, at } = parts.relation.misalignment.worstVertical;
    expect(worst_vertical_pct.value).toBeCloseTo(100 * value, 12);
    expect(worst_vertical_pct.at).toEqual([at.x, at.y]);
  });

  it('gives leaks in percent', () => {
    expect(composed.eyes).toMatchObject({ assignment: 'correct' });
    expect(composed.eyes.crosstalk_left_pct!.value).toBeCloseTo(2, 12);
    expect(composed.eyes.crosstalk_right_pct).toEqual({ value: 5, u: 0.01 });
  });

  it('names the shots by their role, with their files and sizes', () => {
    expect(composed.shots).toEqual([
      { role: 'left-lens', file: 'a.jpg', sha256: '0'.repeat(64), width_px: 3000, height_px: 2000, marks_shown: true },
      { role: 'right-lens', file: 'b.jpg', sha256: '1'.repeat(64), width_px: 3000, height_px: 2000, marks_shown: true },
    ]);
    expect(composed.evidence.blur_px).toEqual({ 'left-lens': 0.9, 'right-lens': 1.3 });
  });

  it('gives the house’s lengths in their units', () => {
    const { house } = composed;
    expect(house.assumed).toBe(false);
    expect(house.picture_width_mm).toBeCloseTo(10_400, 6);
    expect(house.picture_height_mm).toBeCloseTo(10_400 / 2.35, 6);
    expect(house.throw_m).toBe(27);
    expect(house.reference_seat_ih).toBeCloseTo((1000 * house.reference_seat_m!) / house.picture_height_mm!, 6);
  });

  it('counts marks of each eye, and says of every one what was seen and what is left over', () => {
    const count = (eye: Eye) => chart.marks.filter((mark) => mark.eye === eye).length;
    expect(composed.marks).toEqual({
      expected: Math.max(count('left'), count('right')),
      expected_left: count('left'),
      expected_right: count('right'),
      left: count('left'),
      right: count('right'),
    });
    const { marks } = composed.evidence;
    expect(marks).toHaveLength(chart.marks.length);
    const [first] = marks;
    const { mark, centre } = parts.relation.marks[0]!;
    expect(first).toMatchObject({
      id: mark.id,
      eye: 'left',
      shot: 'left-lens',
      at: [mark.x, mark.y],
      photo_px: [centre.x, centre.y],
      used: true,
    });
    expect(first.u_px[0]).toBeCloseTo(0.01, 12);
    expect(first.u_px[1]).toBeCloseTo(0.02, 12);
    expect(marks.at(-1)).toMatchObject({ eye: 'right', shot: 'right-lens' });
  });

  it('keeps the field: what the two views say at each place, in percent', () => {
    const { field, photo_from_chart, distortion } = composed.evidence;
    expect(field).toHaveLength(13 * 7);
    for (const { dx_pct, dy_pct } of field) {
      expect(dx_pct).toBeCloseTo(0, 3);
      expect(dy_pct).toBeCloseTo(0.4, 3);
    }
    const middle = field[45];
    expect(middle.at[0]).toBeCloseTo(0, 12);
    const seen = project({ photoFromChart: views.left, lens: LENS }, { x: 0, y: 0 });
    expect(middle.photo_px[0]).toBeCloseTo(seen.x, 2);
    expect(middle.photo_px[1]).toBeCloseTo(seen.y, 2);
    expect(photo_from_chart.left).toEqual(parts.relation.views.left.photoFromChart);
    expect(distortion.k1).toBeCloseTo(LENS.k1, 4);
    expect(distortion.radius_px).toBeCloseTo(LENS.radius_px, 9);
  });

  it('hands on findings, causes and advice', () => {
    expect(composed.findings).toHaveLength(parts.findings.length);
    expect(composed.findings[0]).toHaveProperty('seat_assumed');
    expect(composed.findings[0]).not.toHaveProperty('seatAssumed');
    expect(composed.causes.map(({ code, check_code }) => [code, check_code])).toEqual(
      parts.diagnosis.causes.map(({ code, check }) => [code, check]),
    );
    expect(composed.advice).toBe(parts.advice.outcome);
    expect(composed.turns.length).toBe(parts.advice.turns.length);
    expect(composed.turns.length).toBeGreaterThan(0);
    expect(composed.predicted_after.vertical_offset_pct).toBeCloseTo(
      100 * parts.advice.predicted.terms.verticalOffset.value,
      12,
    );
    const motion = composed.image_motion.find(({ eye }) => eye === 'right')!;
    const given = parts.advice.imageMotion.find(({ eye }) => eye === 'right')!.motion;
    expect(motion.vertical_pct).toBeCloseTo(100 * given.verticalOffset, 12);
    expect(motion.rotation_deg).toBeCloseTo((given.rotation * 180) / Math.PI, 12);
  });

  it('becomes, with its words, a reading that the schema takes without dropping anything', () => {
    const worded = JSON.parse(JSON.stringify(translateReading(composed)));
    expect(readingSchema.parse(worded)).toEqual(worded);
  });
});

describe('warnings', () => {
  const codesOf = (some: SomeParts) => composeMeasured(partsOf(some)).warnings.map(({ code }) => code);

  it('of burnt-out marks, with their number', () => {
    expect(composeMeasured(partsOf()).warnings).toEqual([
      { code: 'some-marks-clipped', facts: { clipped: 2 } },
      { code: 'two-exposures', facts: { exposure: 'missing' } },
    ]);
  });

  it('of many missing marks, with their number', () => {
    const right = shotOf('right', 1, marksOf('right').slice(7));
    const { warnings } = composeMeasured(partsOf({ shots: { left: shotOf('left', 1), right } }));
    expect(warnings).toContainEqual({ code: 'marks-missing', facts: { missing: 7 } });
    const nearly = shotOf('right', 1, marksOf('right').slice(2));
    expect(codesOf({ shots: { left: shotOf('left', 1), right: nearly } })).not.toContain('marks-missing');
  });

  it('of a camera that crept farther than film does', () => {
    const { compared } = partsOf();
    const crept = {
      ...compared!,
      steadiness: {
        shift_px: { x: 0.2, y: 0 },
        size: { value: 0, u: 1e-5 },
        movement_px: { value: 0.2, u: 0.01 },
        chance: 1e-9,
        chanceOfWeave: 1e-9,
      },
      movement_ih: 5e-3,
    };
    expect(composeMeasured(partsOf({ compared: crept })).warnings).toContainEqual({
      code: 'camera-crept',
      facts: { moved_px: 0.2 },
    });
    const asFilm = { ...crept, movement_ih: 1e-3 };
    expect(codesOf({ compared: asFilm })).not.toContain('camera-crept');
    const slides = { ...meridian(), film: { ...meridian().film, motion_um: 0 }, glasses: { wedge_arcmin: 0 } };
    expect(codesOf({ compared: asFilm, house: slides })).toContain('camera-crept');
    expect(composeMeasured(partsOf({ compared: { ...compared!, steadiness: undefined } })).steadiness).toBeNull();
  });

  it('where nobody looked through the glasses, eyes and ghosts are not looked at', () => {
    const composed = composeMeasured(partsOf({ compared: undefined }));
    expect(composed.eyes).toEqual({
      assignment: 'not-looked-at',
      crosstalk_left_pct: null,
      crosstalk_right_pct: null,
      leak_left_lens_pct: null,
      leak_right_lens_pct: null,
    });
    expect(composed).toMatchObject({ steadiness: null, strays: [] });
  });

  it('of an assumed house, of which nothing is known in metres', () => {
    const composed = composeMeasured(partsOf({ house: undefined }));
    expect(composed.warnings.map(({ code }) => code)).toContain('house-assumed');
    expect(composed.house).toMatchObject({
      name: null,
      assumed: true,
      throw_m: null,
      picture_width_mm: null,
      reference_seat_m: null,
    });
    expect(composed.findings.filter(({ seat }) => seat !== null).every(({ seat_assumed }) => seat_assumed)).toBe(true);
  });
});

describe('composeRefused', () => {
  it('keeps the code, the facts, the shot, and the shots that could be read', () => {
    const refused = composeRefused(
      '0.1.0',
      [{ role: 'left-lens', photo: files[0]! }],
      refuse('blurred', { blur_px: 9, limit_px: 6 }),
      'left-lens',
    );
    expect(refused).toMatchObject({
      outcome: 'refused',
      software: { name: 'twinplumb', version: '0.1.0' },
      refusal: { code: 'blurred', shot: 'left-lens', facts: { blur_px: 9, limit_px: 6 } },
    });
    expect(refused.shots).toHaveLength(1);
    const worded = JSON.parse(JSON.stringify(translateReading(refused)));
    expect(readingSchema.parse(worded)).toEqual(worded);
  });
});
