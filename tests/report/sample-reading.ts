/** A reading made by hand, in the Meridian, for the tests of wording and reports. Its numbers hang together. */
import { EYES, type Eye } from '../../src/kernel/eye.ts';
import { layoutChart } from '../../src/target/chart.ts';
import type { MeasuredReading, ReadingFinding, RefusedReading } from '../../src/record/reading.ts';

const ASPECT = 2.35;
const TERMS = {
  vertical: 0.412,
  horizontal: 0.28,
  rotation_deg: 0.021,
  size: 0.035,
  stretch: 0.012,
  shear: -0.009,
  keyH: 0.041,
  keyV: -0.018,
};

/** The misalignment field of the terms above, in percent of the picture height. */
function fieldAt(x: number, y: number): { dx: number; dy: number } {
  const rot = (100 * TERMS.rotation_deg * Math.PI) / 180;
  const common = TERMS.keyH * x + TERMS.keyV * y;
  return {
    dx: TERMS.horizontal - rot * y + TERMS.size * x + TERMS.stretch * x + TERMS.shear * y + common * x,
    dy: TERMS.vertical + rot * x + TERMS.size * y - TERMS.stretch * y + TERMS.shear * x + common * y,
  };
}

/** A camera on the house's axis: 1400 px to the picture height, picture centred in a 4000 x 3000 photograph. */
const SCALE_PX = 1400;
const photoOf = (x: number, y: number): [number, number] => [1999.5 + SCALE_PX * x, 1499.5 - SCALE_PX * y];

const chart = layoutChart(ASPECT);
const countOf = (eye: Eye) => chart.marks.filter((mark) => mark.eye === eye).length;
const marks = chart.marks.map((mark, index) => {
  const field = fieldAt(mark.x, mark.y);
  const sign = mark.eye === 'right' ? 0.5 : -0.5;
  const [px, py] = photoOf(mark.x + (sign * field.dx) / 100, mark.y + (sign * field.dy) / 100);
  return {
    id: mark.id,
    eye: mark.eye,
    shot: mark.eye === 'left' ? ('left-lens' as const) : ('right-lens' as const),
    at: [mark.x, mark.y] as const,
    photo_px: [px, py] as const,
    u_px: [0.011, 0.012] as const,
    residual_px: [0.02 * Math.sin(3 * index), 0.02 * Math.cos(5 * index)] as const,
    used: index !== 17,
  };
});

const field = [];
for (let row = 0; row < 5; row++) {
  for (let column = 0; column < 11; column++) {
    const x = (column / 10 - 0.5) * ASPECT;
    const y = 0.5 - row / 4;
    const { dx, dy } = fieldAt(x, y);
    field.push({ at: [x, y] as const, photo_px: photoOf(x, y), dx_pct: dx, dy_pct: dy });
  }
}

export function sampleFinding(
  own: Pick<ReadingFinding, 'code' | 'value' | 'u' | 'limit'> & Partial<ReadingFinding>,
): ReadingFinding {
  return {
    level: 'working',
    verdict: 'within',
    unit: 'arcmin',
    source: 'Three-Dimensional Photography (early 1950s), p. 82: a quarter prism dioptre',
    basis: 'published',
    confirmed: true,
    seat: null,
    seat_assumed: false,
    ...own,
  };
}

/** Somebody looked through the glasses. */
type ExaminedEyes = Exclude<MeasuredReading['eyes'], { assignment: 'not-looked-at' }>;

export const sampleReading: MeasuredReading & { readonly eyes: ExaminedEyes } = {
  schema: 'twinplumb.reading/1',
  outcome: 'measured',
  software: { name: 'twinplumb', version: '0.1.0' },
  measured_at: '2026-03-14T18:05:00Z',
  sentence: 'Right-eye picture is 0.41 % too high. Upper screw, 1/8 turn clockwise; then you are within tolerance.',
  house: {
    name: 'The Meridian',
    assumed: false,
    throw_m: 27,
    picture_width_mm: 10400,
    picture_height_mm: 4425.5,
    nearest_row_m: 6.5,
    reference_seat_m: 15,
    aspect: ASPECT,
    nearest_row_ih: 6.5 / 4.4255,
    reference_seat_ih: 15 / 4.4255,
  },
  shots: [
    { role: 'left-lens', file: 'left.jpg', sha256: 'a1'.repeat(32), width_px: 4000, height_px: 3000 },
    { role: 'right-lens', file: 'right.jpg', sha256: 'b2'.repeat(32), width_px: 4000, height_px: 3000 },
  ],
  misalignment: {
    vertical_offset_pct: { value: TERMS.vertical, u: 0.0011 },
    horizontal_offset_pct: { value: TERMS.horizontal, u: 0.0012 },
    rotation_deg: { value: TERMS.rotation_deg, u: 0.0009 },
    size_pct: { value: TERMS.size, u: 0.0021 },
    stretch_pct: { value: TERMS.stretch, u: 0.0019 },
    shear_pct: { value: TERMS.shear, u: 0.002 },
    keystone_h_pct: { value: TERMS.keyH, u: 0.0028 },
    keystone_v_pct: { value: TERMS.keyV, u: 0.006 },
    worst_vertical_pct: { value: 0.487, u: 0.0035, at: [1.175, 0.5] },
  },
  eyes: {
    assignment: 'correct',
    crosstalk_left_pct: { value: 0.62, u: 0.03 },
    crosstalk_right_pct: { value: 1.04, u: 0.04 },
    leak_left_lens_pct: { value: 0.62, u: 0.03 },
    leak_right_lens_pct: { value: 1.04, u: 0.04 },
  },
  marks: {
    expected: Math.max(...EYES.map(countOf)),
    expected_left: countOf('left'),
    expected_right: countOf('right'),
    left: countOf('left'),
    right: countOf('right') - 1,
  },
  steadiness: { movement_px: { value: 0.021, u: 0.008 }, chance: 0.03 },
  findings: [
    sampleFinding({
      code: 'vertical-offset',
      verdict: 'outside',
      value: 9.64,
      u: 0.026,
      limit: 8.6,
      seat: 'nearest-row',
    }),
    sampleFinding({ code: 'vertical-offset', value: 4.18, u: 0.011, limit: 8.6, seat: 'reference-seat' }),
    sampleFinding({
      code: 'vertical-offset',
      level: 'maximum',
      value: 9.64,
      u: 0.026,
      limit: 17.2,
      seat: 'nearest-row',
    }),
    sampleFinding({
      code: 'worst-vertical',
      verdict: 'outside',
      value: 11.4,
      u: 0.082,
      limit: 8.6,
      seat: 'nearest-row',
    }),
    sampleFinding({ code: 'rotation', value: 1.01, u: 0.043, limit: 8.6, seat: 'nearest-row' }),
    sampleFinding({
      code: 'rotation',
      level: 'maximum',
      value: 0.021,
      u: 0.0009,
      limit: 1,
      unit: 'deg',
      source: 'Kooi and Toet 2004, Displays 25:99, onset of discomfort',
      basis: 'from-memory',
      confirmed: false,
    }),
    sampleFinding({
      code: 'size',
      value: 0.035,
      u: 0.0021,
      limit: 0.5,
      unit: 'pct',
      source: 'Theatre Catalog 1953-54, p. 255',
    }),
    sampleFinding({ code: 'horizontal-offset', value: 6.55, u: 0.028, limit: 17.2, seat: 'nearest-row' }),
    sampleFinding({ code: 'crosstalk-left', value: 0.62, u: 0.03, limit: 1, unit: 'pct', source: 'SID Digest 73.4' }),
    sampleFinding({
      code: 'crosstalk-right',
      verdict: 'undecided',
      value: 1.04,
      u: 0.04,
      limit: 1,
      unit: 'pct',
      source: 'SID Digest 73.4',
    }),
  ],
  advice: 'turn',
  turns: [
    {
      adjustment: 'upper-mirror',
      label: 'Upper screw',
      direction: 'clockwise',
      turns: 0.125,
      u: 0.01,
      order: 1,
      moves: 'right',
      degrees: null,
      approach: { finish: 'clockwise', overshoot_turns: 0 },
      position_assumed: false,
      effect_assumed: true,
      polarizers_turn_deg: null,
    },
  ],
  trial_turns: [],
  image_motion: [
    { eye: 'left', vertical_pct: 0.206, horizontal_pct: 0.14, rotation_deg: 0.0105 },
    { eye: 'right', vertical_pct: -0.206, horizontal_pct: -0.14, rotation_deg: -0.0105 },
  ],
  predicted_after: {
    vertical_offset_pct: 0.018,
    horizontal_offset_pct: 0.28,
    rotation_deg: 0.021,
    size_pct: 0.035,
    stretch_pct: 0.012,
    shear_pct: -0.009,
    keystone_h_pct: 0.041,
    keystone_v_pct: -0.018,
    worst_vertical_pct: 0.093,
  },
  incurable: [],
  causes: [],
  warnings: [],
  cautions: ['Nothing is adjusted while an audience is watching.'],
  evidence: {
    photo_from_chart: {
      left: [SCALE_PX, 0, 1999.5, 0, -SCALE_PX, 1499.5, 0, 0, 1],
      right: [SCALE_PX, 0, 1999.5, 0, -SCALE_PX, 1499.5, 0, 0, 1],
    },
    distortion: { k1: -0.012, k2: 0.001, centre_px: [1999.5, 1499.5], radius_px: 2500 },
    blur_px: { 'left-lens': 1.1, 'right-lens': 1.2 },
    marks,
    field,
  },
};

export const sampleRefusal: RefusedReading = {
  schema: 'twinplumb.reading/1',
  outcome: 'refused',
  software: { name: 'twinplumb', version: '0.1.0' },
  shots: sampleReading.shots,
  refusal: {
    code: 'camera-moved',
    message: 'The camera moved between the two photographs, by 14.2 px.',
    remedy: 'Photograph again.',
    shot: null,
    facts: { moved_px: 14.2 },
  },
};
