/** From the rooms' own types to the record: units at the edge of the program, names as in the file. */
import type { Diagnosis } from '../../diagnosis/diagnose.ts';
import { TERMS, type Term } from '../../geometry/misalignment.ts';
import { pictureGrid } from '../../geometry/rectify-mean.ts';
import { degreesFromRadians } from '../../kernel/angles.ts';
import type { Eye } from '../../kernel/eye.ts';
import type { Measured } from '../../kernel/measured.ts';
import type { Point } from '../../kernel/point.ts';
import type { Refusal } from '../../kernel/refusal.ts';
import { project } from '../../kernel/view.ts';
import { type EyeMatrix, MAP_COLUMNS, MAP_ROWS } from '../../light/eye-matrix.ts';
import type { Eyes } from '../../light/eyes.ts';
import type { Finding } from '../../limits/judge.ts';
import { describeViewing } from '../../limits/viewing.ts';
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
import type { PhotographRole } from '../../record/roles.ts';
import { READING_SCHEMA, type TermField } from '../../record/term-fields.ts';
import type { Chart } from '../../target/chart.ts';
import type { Advice } from '../../turns/advice.ts';
import type { ExaminedPhotograph } from '../shot/examine-shot.ts';
import { exposureOf } from '../shot/judge-camera.ts';
import type { RolePhoto } from '../shot/read-photographs.ts';
import type { LeftOut } from '../shot/sort-out.ts';
import { checkPair } from './check-mixture.ts';
import type { ComparedLenses } from './compare-lenses.ts';
import { describeDiagnosis, describeRefusalCauses } from './describe-causes.ts';
import type { Stray } from './find-strays.ts';
import { learnHouse } from './learn-house.ts';
import { listWarnings } from './list-warnings.ts';
import type { PictureRelation } from './relate-pictures.ts';
import { fieldOf, toFileUnit } from './terms-of-reading.ts';

/** Grid on which the misalignment field is recorded. */
const FIELD_COLUMNS = 13;
const FIELD_ROWS = 7;

export interface MeasuredParts {
  readonly softwareVersion: string;
  readonly photographs: readonly ExaminedPhotograph[];
  readonly leftOut: readonly LeftOut[];
  readonly house: House | undefined;
  readonly chart: Chart;
  /** Undefined where no photograph was taken through the glasses. */
  readonly compared: ComparedLenses | undefined;
  readonly relation: PictureRelation;
  readonly findings: readonly Finding[];
  readonly diagnosis: Diagnosis;
  readonly advice: Advice;
}

export function composeRefused(
  softwareVersion: string,
  files: readonly RolePhoto[],
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
  const { chart, relation, advice } = parts;
  return {
    schema: READING_SCHEMA,
    outcome: 'measured',
    software: { name: 'twinplumb', version: parts.softwareVersion },
    house: describeHouse(parts.house, chart.aspect),
    shots: describeShots(parts.photographs, parts.relation.shown),
    geometry_from: relation.from,
    misalignment: describeMisalignment(relation),
    budget: describeBudget(relation),
    eyes: parts.compared ? describeEyes(parts.compared) : EYES_NOT_EXAMINED,
    steadiness: describeSteadiness(parts.compared),
    ...describePairCheck(parts),
    ...describeHouseFindings(parts),
    marks: countMarks(parts),
    strays: (parts.compared?.strays ?? []).map(describeStray),
    findings: parts.findings.map(({ seatAssumed, ...finding }) => ({ ...finding, seat_assumed: seatAssumed })),
    ...describeAdvice(advice),
    ...describeDiagnosis(parts.diagnosis),
    warnings: listWarnings(parts, countMarks(parts)),
    evidence: {
      photo_from_chart: {
        left: relation.views.left.photoFromChart,
        right: relation.views.right.photoFromChart,
      },
      distortion: describeLens(relation),
      blur_px: describeBlur(parts),
      marks: describeMarks(relation),
      field: describeField(parts),
    },
  };
}

/** The fields of a reading that say what to turn, and what is left after it. */
export function describeAdvice(
  advice: Advice,
): Pick<UnwordedMeasured, 'advice' | 'turns' | 'trial_turns' | 'image_motion' | 'predicted_after' | 'incurable'> {
  return {
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
  };
}

function describeShots(files: readonly RolePhoto[], shown: readonly RolePhoto[] = []): ReadingShot[] {
  return files.map(({ role, photo }) => {
    const { file, sha256, width, height, camera } = photo;
    const taken = camera.takenAt === undefined ? {} : { taken_at: camera.takenAt };
    const marked = shown.some((other) => other.photo === photo) ? { marks_shown: true as const } : {};
    return { role, file, sha256, width_px: width, height_px: height, ...taken, ...marked };
  });
}

/** Of the photographs that stand for all, and of the first of each role where none does. */
function describeBlur({ photographs, relation }: MeasuredParts): UnwordedMeasured['evidence']['blur_px'] {
  const first = [...photographs.toReversed(), ...relation.shown].flatMap(({ role, shot }) =>
    role === 'closing' ? [] : [[role, shot.blur_px]],
  );
  return Object.fromEntries(first);
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

function inPercent({ value, u }: Measured): Measured {
  return { value: 100 * value, u: 100 * u };
}

const REPORTED: readonly (Term | 'worstVertical')[] = [...TERMS, 'worstVertical'];

function describeBudget({ budget }: PictureRelation): NonNullable<UnwordedMeasured['budget']> {
  return REPORTED.map((figure) => {
    const term = figure === 'worstVertical' ? 'verticalOffset' : figure;
    const { lines, u, uRepeat, effectiveDegrees, expanded } =
      figure === 'worstVertical' ? budget.worstVertical : budget.terms[figure];
    return {
      figure: figure === 'worstVertical' ? 'worst_vertical_pct' : fieldOf(figure),
      lines: lines
        .filter((line) => line.u > 0)
        .map((line) => ({
          source: line.component,
          basis: line.source,
          type: line.type,
          u: toFileUnit(term, line.u),
          share_pct: Math.min(100, 100 * line.share),
          degrees_of_freedom: finiteOrNull(line.degreesOfFreedom),
          constant: !line.repeats,
        })),
      u: toFileUnit(term, u),
      u_repeat: toFileUnit(term, uRepeat),
      degrees_of_freedom: finiteOrNull(effectiveDegrees),
      expanded_95: toFileUnit(term, expanded),
    };
  });
}

function finiteOrNull(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

function describeMisalignment({ misalignment, field, budget }: PictureRelation): UnwordedMeasured['misalignment'] {
  const { terms, worstVertical } = misalignment;
  const measured = TERMS.map((term) => {
    const u_repeat = toFileUnit(term, budget.terms[term].uRepeat);
    return [fieldOf(term), { ...inFileUnit(term, terms[term]), u_repeat }];
  });
  return {
    ...(Object.fromEntries(measured) as Record<TermField, { value: number; u: number; u_repeat: number }>),
    worst_vertical_pct: {
      ...inPercent(worstVertical),
      u_repeat: 100 * budget.worstVertical.uRepeat,
      at: pairOfPoint(worstVertical.at),
    },
    remainder_pct: {
      ...inPercent(field.remainder),
      u_repeat: 100 * field.remainder.uRepeat,
      at: pairOfPoint(field.remainder.at),
    },
  };
}

function describePrediction({ predicted }: Advice): UnwordedMeasured['predicted_after'] {
  const after = Object.fromEntries(TERMS.map((term) => [fieldOf(term), inFileUnit(term, predicted.terms[term]).value]));
  return {
    ...(after as Record<TermField, number>),
    worst_vertical_pct: 100 * Math.abs(predicted.worstVertical.value),
  };
}

const EYES_NOT_EXAMINED = {
  assignment: 'not-looked-at',
  crosstalk_left_pct: null,
  crosstalk_right_pct: null,
  leak_left_lens_pct: null,
  leak_right_lens_pct: null,
} as const;

function describeEyes(compared: ComparedLenses): UnwordedMeasured['eyes'] {
  return {
    ...describeEyesInPercent(compared.eyes),
    matrix: describeMatrix(compared.matrix),
    light: { left_picture: describeLight(compared, 'left'), right_picture: describeLight(compared, 'right') },
  };
}

function describeEyesInPercent(eyes: Eyes) {
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
function describeLight({ photographs, eyes }: ComparedLenses, eye: Eye): PictureLight {
  const [left, right] = [eyes.throughLeftLens[eye], eyes.throughRightLens[eye]];
  const [strength, lens] = left.value >= right.value ? ([left, 'left'] as const) : ([right, 'right'] as const);
  return { strength_pct: inPercent(strength), exposure: exposureOf(photographs[lens].photo.camera) ?? null };
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

function describeSteadiness(compared: MeasuredParts['compared']): UnwordedMeasured['steadiness'] {
  const steadiness = compared?.steadiness;
  return steadiness ? { movement_px: { ...steadiness.movement_px }, chance: steadiness.chance } : null;
}

function describePairCheck({ relation, compared, chart, house }: MeasuredParts): Pick<UnwordedMeasured, 'pair_check'> {
  const check = checkPair(relation, compared, chart.aspect, house);
  return check ? { pair_check: { apart_pct: 100 * check.apart_ih, limit_pct: 100 * check.limit_ih } } : {};
}

function describeHouseFindings({
  photographs,
  relation,
  house,
  chart,
}: MeasuredParts): Pick<UnwordedMeasured, 'house_findings'> {
  const house_findings = learnHouse(photographs, relation.views, house, chart.aspect);
  return house_findings ? { house_findings } : {};
}

function countMarks({ chart, relation }: MeasuredParts): UnwordedMeasured['marks'] {
  const ids = { left: new Set<string>(), right: new Set<string>() };
  relation.marks.forEach(({ mark, eye }, i) => {
    if (relation.fit.marks[i].status === 'used') ids[eye].add(mark.id);
  });
  const expected = (eye: Eye) => chart.marks.filter((mark) => mark.eye === eye).length;
  return {
    expected: Math.max(expected('left'), expected('right')),
    expected_left: expected('left'),
    expected_right: expected('right'),
    left: ids.left.size,
    right: ids.right.size,
  };
}

function describeLens({ views }: PictureRelation): UnwordedMeasured['evidence']['distortion'] {
  const { k1, k2, centre, radius_px } = views.left.lens;
  return { k1, k2, centre_px: pairOfPoint(centre), radius_px };
}

function describeMarks({ marks, fit }: PictureRelation): MarkEvidence[] {
  return marks.map(({ role, eye, mark, centre, covariance }, index) => ({
    id: mark.id,
    eye,
    shot: role,
    at: [mark.x, mark.y],
    photo_px: pairOfPoint(centre),
    u_px: [Math.sqrt(covariance[0]), Math.sqrt(covariance[2])],
    residual_px: pairOfPoint(fit.marks[index].residual),
    used: fit.marks[index].status === 'used',
  }));
}

function describeField({ relation, chart }: MeasuredParts): UnwordedMeasured['evidence']['field'] {
  return pictureGrid(chart.aspect, FIELD_COLUMNS, FIELD_ROWS).map((at) => {
    const d = relation.field.fieldAt(at);
    return {
      at: pairOfPoint(at),
      photo_px: pairOfPoint(project(relation.views.left, at)),
      dx_pct: 100 * d.x,
      dy_pct: 100 * d.y,
    };
  });
}

function pairOfPoint({ x, y }: Point): [number, number] {
  return [x, y];
}
