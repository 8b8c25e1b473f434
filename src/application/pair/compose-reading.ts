/** From the rooms' own types to the record: units at the edge of the program, names as in the file. */
import type { Diagnosis } from '../../diagnosis/diagnose.ts';
import type { Finding } from '../../limits/judge.ts';
import { describeViewing } from '../../limits/viewing.ts';
import type { FittedViews } from '../../geometry/fit-views.ts';
import { misalignmentField } from '../../geometry/measure-misalignment.ts';
import { type Misalignment, type Term, TERMS } from '../../geometry/misalignment.ts';
import { pictureGrid } from '../../geometry/rectify-mean.ts';
import { degreesFromRadians } from '../../kernel/angles.ts';
import { type Eye, EYES } from '../../kernel/eye.ts';
import type { Measured } from '../../kernel/measured.ts';
import type { Point } from '../../kernel/point.ts';
import type { Refusal } from '../../kernel/refusal.ts';
import { project } from '../../kernel/view.ts';
import { type EyeMatrix, MAP_COLUMNS, MAP_ROWS } from '../../light/eye-matrix.ts';
import type { Eyes } from '../../light/eyes.ts';
import type { Photo } from '../../photo/photo.ts';
import type { House } from '../../record/house.ts';
import type {
  MarkEvidence,
  PictureLight,
  ReadingHouse,
  ReadingShot,
  ReadingStray,
  UnwordedMeasured,
  UnwordedRefused,
} from '../../record/reading.ts';
import { READING_SCHEMA, type TermField } from '../../record/term-fields.ts';
import type { Chart } from '../../target/chart.ts';
import type { Advice } from '../../turns/advice.ts';
import type { ComparedShots } from './compare-shots.ts';
import { describeDiagnosis, describeRefusalCauses } from './describe-causes.ts';
import type { Stray } from './find-strays.ts';
import { exposureOf } from '../shot/judge-camera.ts';
import type { ShotPair } from './observe-pictures.ts';
import { fieldOf, toFileUnit } from './terms-of-reading.ts';
import type { PhotographRole } from '../../record/roles.ts';
import { PHOTOGRAPH_ROLES } from '../../record/roles.ts';
import { NEARLY_ALL } from '../shot/judge-shot.ts';

/** Grid on which the misalignment field is recorded. */
const FIELD_COLUMNS = 13;
const FIELD_ROWS = 7;

export interface MeasuredParts {
  readonly softwareVersion: string;
  /** Left lens, right lens, and the closing one where there is one. */
  readonly files: readonly Photo[];
  readonly house: House | undefined;
  readonly chart: Chart;
  readonly shots: ShotPair;
  readonly compared: Omit<ComparedShots, 'views' | 'observations'>;
  readonly strays: readonly Stray[];
  readonly fit: FittedViews;
  readonly misalignment: Misalignment;
  readonly findings: readonly Finding[];
  readonly diagnosis: Diagnosis;
  readonly advice: Advice;
}

export function composeRefused(
  softwareVersion: string,
  files: readonly Photo[],
  refusal: Refusal<string>,
  shot: PhotographRole | null,
): UnwordedRefused {
  const { code, facts } = refusal;
  return {
    schema: READING_SCHEMA,
    outcome: 'refused',
    software: { name: 'twinplumb', version: softwareVersion },
    shots: describeShots(files),
    refusal: { code, shot, facts },
    ...describeRefusalCauses(refusal, shot),
  };
}

export function composeMeasured(parts: MeasuredParts): UnwordedMeasured {
  const { chart, shots, misalignment, advice } = parts;
  return {
    schema: READING_SCHEMA,
    outcome: 'measured',
    software: { name: 'twinplumb', version: parts.softwareVersion },
    house: describeHouse(parts.house, chart.aspect),
    shots: describeShots(parts.files),
    misalignment: describeMisalignment(misalignment),
    eyes: {
      ...describeEyesInPercent(parts.compared.eyes),
      matrix: describeMatrix(parts.compared.matrix),
      light: { left_picture: describeLight(parts, 'left'), right_picture: describeLight(parts, 'right') },
    },
    steadiness: describeSteadiness(parts.compared),
    marks: countMarks(parts),
    strays: parts.strays.map(describeStray),
    findings: parts.findings.map(({ seatAssumed, ...finding }) => ({ ...finding, seat_assumed: seatAssumed })),
    advice: advice.outcome,
    turns: advice.turns.map(({ positionAssumed, effectAssumed, polarizersTurn_deg, ...turn }) => ({
      ...turn,
      position_assumed: positionAssumed,
      effect_assumed: effectAssumed,
      polarizers_turn_deg: polarizersTurn_deg,
    })),
    trial_turns: advice.trialTurns.map(({ needed: _, term, ...trial }, index) => ({
      ...trial,
      term: fieldOf(term),
      order: index + 1,
    })),
    image_motion: advice.imageMotion.map(({ eye, motion }) => ({
      eye,
      vertical_pct: 100 * motion.verticalOffset,
      horizontal_pct: 100 * motion.horizontalOffset,
      rotation_deg: degreesFromRadians(motion.rotation),
    })),
    predicted_after: describePrediction(advice),
    incurable: advice.incurable.map(({ term, left, obstacle, reasons }) => ({
      term: fieldOf(term),
      ...inFileUnit(term, left),
      unit: term === 'rotation' ? ('deg' as const) : ('pct' as const),
      obstacle,
      reasons,
    })),
    ...describeDiagnosis(parts.diagnosis),
    warnings: listWarnings(parts),
    evidence: {
      photo_from_chart: {
        left: parts.fit.views.left!.photoFromChart,
        right: parts.fit.views.right!.photoFromChart,
      },
      distortion: describeLens(parts.fit),
      blur_px: { 'left-lens': shots.left.blur_px, 'right-lens': shots.right.blur_px },
      marks: describeMarks(parts),
      field: describeField(parts),
    },
  };
}

function describeShots(files: readonly Photo[]): ReadingShot[] {
  return files.map(({ file, sha256, width, height }, index) => ({
    role: PHOTOGRAPH_ROLES[index]!,
    file,
    sha256,
    width_px: width,
    height_px: height,
  }));
}

function describeHouse(house: House | undefined, aspect: number): ReadingHouse {
  const viewing = describeViewing(house, aspect);
  return {
    name: house?.name ?? null,
    assumed: viewing.assumed,
    throw_m: house?.throw_m ?? null,
    picture_width_mm: house ? 1000 * house.screen.picture_width_m : null,
    picture_height_mm: house ? (1000 * house.screen.picture_width_m) / house.screen.picture_aspect : null,
    nearest_row_m: house?.seats.nearest_row_m ?? null,
    reference_seat_m: house?.seats.reference_seat_m ?? null,
    aspect,
    nearest_row_ih: viewing.distance_ih['nearest-row'],
    reference_seat_ih: viewing.distance_ih['reference-seat'],
  };
}

/** ih and fractions in percent, radians in degrees. */
function inFileUnit(term: Term, { value, u }: Measured): Measured {
  return { value: toFileUnit(term, value), u: toFileUnit(term, u) };
}

function inPercent({ value, u }: Measured): { value: number; u: number } {
  return { value: 100 * value, u: 100 * u };
}

function describeMisalignment({ terms, worstVertical }: Misalignment): UnwordedMeasured['misalignment'] {
  const measured = Object.fromEntries(TERMS.map((term) => [fieldOf(term), inFileUnit(term, terms[term])]));
  return {
    ...(measured as Record<TermField, { value: number; u: number }>),
    worst_vertical_pct: { ...inPercent(worstVertical), at: pairOfPoint(worstVertical.at) },
  };
}

function describePrediction({ predicted }: Advice): UnwordedMeasured['predicted_after'] {
  const after = Object.fromEntries(TERMS.map((term) => [fieldOf(term), inFileUnit(term, predicted.terms[term]).value]));
  return {
    ...(after as Record<TermField, number>),
    worst_vertical_pct: 100 * Math.abs(predicted.worstVertical.value),
  };
}

function describeEyesInPercent(eyes: Eyes): UnwordedMeasured['eyes'] {
  return {
    assignment: eyes.assignment,
    crosstalk_left_pct: inPercent(eyes.crosstalkLeft),
    crosstalk_right_pct: inPercent(eyes.crosstalkRight),
    leak_left_lens_pct: inPercent(eyes.leakLeftLens),
    leak_right_lens_pct: inPercent(eyes.leakRightLens),
  };
}

function describeMatrix({ class: kind, strengths, maps }: EyeMatrix): UnwordedMeasured['eyes']['matrix'] {
  const through = (lens: Eye) => ({
    left_picture_pct: inPercent(strengths[lens].left),
    right_picture_pct: inPercent(strengths[lens].right),
  });
  const map = (lens: Eye) => maps[lens].map((cell) => (cell ? inPercent(cell) : null));
  return {
    class: kind,
    left_lens: through('left'),
    right_lens: through('right'),
    map: { columns: MAP_COLUMNS, rows: MAP_ROWS, left_lens_pct: map('left'), right_lens_pct: map('right') },
  };
}

/** Of an eye's picture, in the photograph that shows it most. */
function describeLight({ files, compared: { eyes } }: MeasuredParts, eye: Eye): PictureLight {
  const [left, right] = [eyes.throughLeftLens[eye], eyes.throughRightLens[eye]];
  const [strength, photo] = left.value >= right.value ? [left, files[0]] : [right, files[1]];
  return { strength_pct: inPercent(strength), exposure: (photo && exposureOf(photo.camera)) ?? null };
}

function describeStray({ eye, lens, offset, strength, marks, ...reach }: Stray): ReadingStray {
  return {
    eye,
    shot: `${lens}-lens`,
    offset_ih: [offset.x.value, offset.y.value],
    u_ih: [offset.x.u, offset.y.u],
    strength_pct: inPercent(strength),
    side: reach.side,
    beyond_ih: reach.beyond_ih,
    over_ih: reach.over_ih,
    marks,
  };
}

function describeSteadiness({ steadiness }: MeasuredParts['compared']): UnwordedMeasured['steadiness'] {
  return steadiness ? { movement_px: { ...steadiness.movement_px }, chance: steadiness.chance } : null;
}

function countMarks({ chart, fit, shots }: MeasuredParts): UnwordedMeasured['marks'] {
  const ids = { left: new Set<string>(), right: new Set<string>() };
  let index = 0;
  for (const { mark, eye } of marksInOrder(shots)) if (fit.used[index++]) ids[eye].add(mark.id);
  const expected = (eye: Eye) => chart.marks.filter((mark) => mark.eye === eye).length;
  return {
    expected: Math.max(expected('left'), expected('right')),
    expected_left: expected('left'),
    expected_right: expected('right'),
    left: ids.left.size,
    right: ids.right.size,
  };
}

/** All measured marks in the order in which they went into the fit. */
function marksInOrder(shots: ShotPair) {
  return EYES.flatMap((lens) =>
    EYES.flatMap((eye) => shots[lens].marks[eye].map((measured) => ({ lens, eye, ...measured }))),
  );
}

function describeLens({ views }: FittedViews): UnwordedMeasured['evidence']['distortion'] {
  const { k1, k2, centre, radius_px } = views.left!.lens;
  return { k1, k2, centre_px: pairOfPoint(centre), radius_px };
}

function describeMarks({ shots, fit }: MeasuredParts): MarkEvidence[] {
  return marksInOrder(shots).map(({ lens, eye, mark, centre, covariance }, index) => ({
    id: mark.id,
    eye,
    shot: `${lens}-lens` as const,
    at: [mark.x, mark.y],
    photo_px: pairOfPoint(centre),
    u_px: [Math.sqrt(covariance[0]), Math.sqrt(covariance[2])],
    residual_px: pairOfPoint(fit.residuals[index]),
    used: fit.used[index],
  }));
}

function describeField({ fit, chart }: MeasuredParts): UnwordedMeasured['evidence']['field'] {
  const { left, right } = fit.scaledHomographies;
  const grid = pictureGrid(chart.aspect, FIELD_COLUMNS, FIELD_ROWS);
  return misalignmentField(left!, right!, grid).map((d, index) => ({
    at: pairOfPoint(grid[index]),
    photo_px: pairOfPoint(project(fit.views.left!, grid[index])),
    dx_pct: 100 * d.x,
    dy_pct: 100 * d.y,
  }));
}

function pairOfPoint({ x, y }: Point): [number, number] {
  return [x, y];
}

function listWarnings(parts: MeasuredParts): { code: string; facts: Record<string, number> }[] {
  const warnings: { code: string; facts: Record<string, number> }[] = [];
  const counts = countMarks(parts);
  const clipped = marksInOrder(parts.shots).filter((mark) => mark.clipped).length;
  if (clipped > 0) warnings.push({ code: 'some-marks-clipped', facts: { clipped } });
  const missing = counts.expected_left - counts.left + (counts.expected_right - counts.right);
  if (counts.left < NEARLY_ALL * counts.expected_left || counts.right < NEARLY_ALL * counts.expected_right) {
    warnings.push({ code: 'marks-missing', facts: { missing } });
  }
  const { steadiness } = parts.compared;
  if (!steadiness || !parts.compared.isSteadinessKnown) warnings.push({ code: 'steadiness-unknown', facts: {} });
  else if (parts.compared.movement_ih > 0) {
    warnings.push({ code: 'camera-crept', facts: { moved_px: steadiness.movement_px.value } });
  }
  if (!parts.house) warnings.push({ code: 'house-assumed', facts: {} });
  return warnings;
}
