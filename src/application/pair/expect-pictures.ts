/**
 * Where each eye's picture is to be expected in each of two photographs through the lenses of the glasses.
 *
 * A strong picture is where it was found. A faint one is told by the other photograph, and stands elsewhere by whatever
 * moved between the two: film in the gate, camera, the wedge of a lens of the glasses. That movement is the same for
 * both pictures of a photograph, so two things tell it: how the pictures lie to each other, where a photograph without
 * glasses has shown that (`relation`), or a search for the faint pictures themselves.
 */
import { checkSteadiness, type Similarity, type Steadiness } from '../../geometry/check-steadiness.ts';
import { EYES, type Eye, otherEye } from '../../kernel/eye.ts';
import { compose, type Homography, invert } from '../../kernel/homography.ts';
import type { Point } from '../../kernel/point.ts';
import { median } from '../../kernel/statistics.ts';
import { pixelsPerHeight, project, type View } from '../../kernel/view.ts';
import type { Pixels } from '../../imaging/pixels.ts';
import { srgbFromLinear } from '../../imaging/srgb.ts';
import { type Chart, CLEARANCE } from '../../target/chart.ts';
import { searchFaintPicture } from '../../vision/faint-picture.ts';
import { detectMarks } from '../../vision/detect-marks.ts';
import type { ExaminedShot } from '../shot/examine-shot.ts';
import type { ExpectedViews, KnownViews, ShotPair } from './observe-pictures.ts';

/** How the pictures lie to each other: photo from chart of each eye, in one exposure. */
export type KnownRelation = Readonly<Record<Eye, Homography>>;

/** Without a relation a faint picture is expected where the other photograph shows it. */
export function expectPictures(shots: ShotPair, views: KnownViews, relation?: KnownRelation): ExpectedViews {
  const expect = (lens: Eye, eye: Eye): View => {
    const { fit } = shots[lens];
    const own = fit.views[eye];
    if (own) return own;
    const beside = fit.views[otherEye(eye)];
    if (!relation || !beside) return views[eye];
    const throughChart = compose(invert(relation[otherEye(eye)]), relation[eye]);
    return { ...beside, photoFromChart: compose(beside.photoFromChart, throughChart) };
  };
  const through = (lens: Eye) => ({ left: expect(lens, 'left'), right: expect(lens, 'right') });
  return { left: through('left'), right: through('right') };
}

/** The faint pictures moved by what film or camera moved from the left lens's photograph to the right lens's. */
export function moveExpected(expected: ExpectedViews, shots: ShotPair, moved: Similarity): ExpectedViews {
  const move = (lens: Eye, eye: Eye): View => {
    const view = expected[lens][eye];
    if (shots[lens].fit.views[eye]) return view;
    const by = homographyOf(moved);
    return { ...view, photoFromChart: compose(lens === 'right' ? by : invert(by), view.photoFromChart) };
  };
  const through = (lens: Eye) => ({ left: move(lens, 'left'), right: move(lens, 'right') });
  return { left: through('left'), right: through('right') };
}

function homographyOf({ shift_px, centre, growth, turn }: Similarity): Homography {
  const [a, b] = [1 + growth, turn];
  const x = shift_px.x - growth * centre.x + turn * centre.y;
  const y = shift_px.y - growth * centre.y - turn * centre.x;
  return [a, -b, x, b, a, y, 0, 0, 1];
}

/** Marks of a faint picture that were read as marks say where it is, however far it went; each is good to about a pixel. */
const MIN_READ_MARKS = 4;
const READ_PX = 1;
/** Crossings looked at: the strong picture's come first, its ring corners next. */
const MAX_FAINT_SADDLES = 900;
/** Light that a faint picture's marks may have, as a part of the strong one's; FAINT of examine-shot and something to spare. */
const MAX_FAINT_LIGHT = 0.15;
/** A search is good to about its step; a find within this many steps of the expected place says that nothing moved. */
const STILL_STEPS = 1.5;

export interface FoundMovement {
  /** From the left lens's photograph to the right lens's, px. */
  readonly shift: Point;
  /** How far the marks stand from where they are expected, the middle one, px: after a zoom more than the shift. */
  readonly apart_px: number;
  /** What marks that were read say of the whole movement; undefined where they were searched for as one. */
  readonly steadiness: Steadiness | undefined;
}

/**
 * Searches the faint pictures around their expected places; undefined where none was found away from its place.
 */
export function searchMovement(
  shots: ShotPair,
  views: KnownViews,
  expected: ExpectedViews,
  chart: Chart,
): FoundMovement | undefined {
  const range_ih = freeRange(views);
  const found = EYES.flatMap((lens) => {
    const eye = otherEye(lens);
    if (shots[lens].fit.views[eye]) return [];
    const view = expected[lens][eye];
    const read = readShifts(shots[lens], eye, view, chart);
    const search = read ? undefined : searchFaintPicture(shots[lens].pixels, chart, eye, view, range_ih);
    const isAway = search && Math.hypot(search.shift.x, search.shift.y) > STILL_STEPS * search.step_px;
    const shifts = read ?? (isAway ? [search.shift] : []);
    if (shifts.length === 0) return [];
    const sign = lens === 'right' ? 1 : -1;
    const shift = { x: sign * median(shifts.map(({ x }) => x)), y: sign * median(shifts.map(({ y }) => y)) };
    // A search is good to about its step.
    const apart_px = median(shifts.map(({ x, y }) => Math.hypot(x, y))) - (search?.step_px ?? 0);
    const marks = withoutMisread(read ?? [], { x: sign * shift.x, y: sign * shift.y }).map(({ at, x, y }) => {
      return { at, shift: { x: sign * x, y: sign * y }, u: { x: READ_PX, y: READ_PX } };
    });
    return [{ shift, apart_px, marks }];
  });
  if (found.length === 0) return undefined;
  return {
    shift: { x: mean(found.map(({ shift }) => shift.x)), y: mean(found.map(({ shift }) => shift.y)) },
    apart_px: Math.max(...found.map(({ apart_px }) => apart_px)),
    steadiness: checkSteadiness(found.flatMap(({ marks }) => marks)),
  };
}

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

/** Marks taken for others stand anywhere; a zoom takes the outermost twice as far as most. */
const MISREAD = 4;

function withoutMisread(read: readonly ReadShift[], middle: Point): readonly ReadShift[] {
  const far = read.map(({ x, y }) => Math.hypot(x - middle.x, y - middle.y));
  const limit = MISREAD * Math.max(READ_PX, read.length > 0 ? median(far) : 0);
  return read.filter((_, i) => far[i]! <= limit);
}

interface ReadShift extends Point {
  /** Where the mark is expected, px. */
  readonly at: Point;
}

/** How far the marks of the faint picture stand from where they are expected, px; undefined where too few can be read. */
function readShifts(shot: ExaminedShot, eye: Eye, view: View, chart: Chart): readonly ReadShift[] | undefined {
  const strong = median(shot.marks[otherEye(eye)].map(({ contrast, dark }) => dark + MAX_FAINT_LIGHT * contrast));
  const shifts = detectMarks(undefined, limitLight(shot.pixels, strong), chart, MAX_FAINT_SADDLES)
    .marks.filter(({ mark, mirrored, repaired }) => mark.eye === eye && !mirrored && repaired === 0)
    .map(({ mark, centre }) => {
      const place = project(view, mark);
      return { at: place, x: centre.x - place.x, y: centre.y - place.y };
    });
  return shifts.length < MIN_READ_MARKS ? undefined : shifts;
}

/** The strong picture cut down to flat patches no brighter than a ghost, so that a ghost's marks stand out beside it. */
function limitLight(pixels: Pixels, light: number): Pixels {
  const full = pixels.data instanceof Uint8Array ? 255 : 65535;
  const limit = Math.round(full * srgbFromLinear(Math.min(1, Math.max(0, light))));
  return { ...pixels, data: pixels.data.map((code) => Math.min(code, limit)) };
}

/** How far a faint picture may be looked for before anything of the strong one comes in sight, ih. */
function freeRange(views: KnownViews): number {
  const [l, r] = [project(views.left, { x: 0, y: 0 }), project(views.right, { x: 0, y: 0 })];
  return CLEARANCE - Math.hypot(l.x - r.x, l.y - r.y) / pixelsPerHeight(views.left);
}
