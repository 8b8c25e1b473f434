/**
 * Follows the target through the frames of a live picture.
 *
 * A whole look (search, words, views) costs several times what a frame may cost, so it is taken only where the target is
 * not known, and now and then to catch what following cannot see: another lens before the camera, marks come free.
 * Between them every mark is followed from where the last frame had it, and the views are corrected by the affine part
 * of what the marks did.
 */
import type { FittedViews } from '../../geometry/fit-views.ts';
import { createLightSampler, type LightSampler } from '../../imaging/luminance.ts';
import type { Pixels } from '../../imaging/pixels.ts';
import { EYES, type Eye, otherEye } from '../../kernel/eye.ts';
import { compose, type Homography, invert } from '../../kernel/homography.ts';
import { choleskySolve, createMatrix } from '../../kernel/linear-algebra.ts';
import type { Point } from '../../kernel/point.ts';
import { median } from '../../kernel/statistics.ts';
import type { View } from '../../kernel/view.ts';
import type { Chart, Mark } from '../../target/chart.ts';
import { followCrossing, sampleQuadrants } from '../../vision/follow-crossing.ts';
import { predictFrame } from '../../vision/crossing-pixels.ts';
import { measureMarks, TYPICAL_BLUR_PX } from '../../vision/measure-marks.ts';
import { detectMarks } from '../../vision/detect-marks.ts';
import { compareStrength, fitStrength, type MarkStrength } from '../../light/compare-pictures.ts';
import { FAINT, fitSeeds, MIN_SEEDS } from '../shot/examine-shot.ts';
import { type AbsenceCode, explainAbsence } from '../shot/explain-absence.ts';
import { judgePose } from '../shot/judge-pose.ts';

/** A mark in one frame. */
export interface FollowedMark {
  readonly mark: Mark;
  /** Its number on the chart. */
  readonly index: number;
  readonly centre: Point;
  /** Light of its quadrants, linear. */
  readonly bright: number;
  readonly dark: number;
}

export interface SeenTarget {
  readonly outcome: 'seen';
  /** The stronger picture. */
  readonly eye: Eye;
  readonly view: View;
  /** Those of the weaker picture only where it is no mere leak: a leak's marks are seen, but stand nowhere exactly. */
  readonly marks: Readonly<Record<Eye, readonly FollowedMark[]>>;
  /**
   * Weaker over stronger picture, however faint, once it is known how the two lie apart; null where the weaker one is too
   * faint to be found and was never seen.
   */
  readonly leak: number | null;
  readonly blur_px: number | null;
}

export interface UnseenTarget {
  readonly outcome: 'unseen';
  readonly code: AbsenceCode;
}

type Views = FittedViews['views'];

/** How often a whole look is taken while following goes well. */
const LOOK_AGAIN_MS = 1500;
/** How often it is found out why there is no target; the answer stands in between. */
const EXPLAIN_AGAIN_MS = 250;
/** The target is lost when fewer than this part of the marks of the last frame are found again. */
const MIN_KEPT = 0.5;
/** The stronger picture has gone out when it falls to this part of its light from one frame to the next. */
const MIN_LIGHT_KEPT = 0.3;
/** A faint picture is believed in where at least this part of its marks is found, and not by chance. */
const MIN_FAINT_PART = 0.5;
/** A second pass with corrected views is worth it where the first found fewer than this part of them. */
const NEARLY_KEPT = 0.9;
/** Marks whose blur is measured in a frame, and measured values that the blur is the median of. */
const BLUR_MARKS = 3;
const BLUR_VALUES = 9;
/** Linear light; a few samples of a mark are about so noisy. */
const STRENGTH_U = 1e-3;
/** A followed mark that disagrees with its fellows by more is no mark. */
const MAX_RESIDUAL_PX = 1.5;

export class TargetFollower {
  readonly #chart: Chart;
  #views: Views = {};
  /** How the pictures lie apart on the screen, left chart from right chart, as they were seen together last. */
  #leftFromRight: Homography | undefined;
  #kept = 0;
  #lookedAt_ms = Number.NEGATIVE_INFINITY;
  #explainedAt_ms = Number.NEGATIVE_INFINITY;
  #absence: AbsenceCode = 'no-target';
  #strength = 0;
  #blurs: number[] = [];
  #nextBlur = 0;

  constructor(chart: Chart) {
    this.#chart = chart;
  }

  /** The last frame showed the target. */
  get isFollowing(): boolean {
    return hasView(this.#views);
  }

  forget(): void {
    this.#views = {};
    this.#leftFromRight = undefined;
    this.#blurs = [];
    this.#lookedAt_ms = Number.NEGATIVE_INFINITY;
    this.#explainedAt_ms = Number.NEGATIVE_INFINITY;
  }

  /** `at_ms` runs on from frame to frame. */
  look(pixels: Pixels, at_ms: number): SeenTarget | UnseenTarget {
    const sample = createLightSampler(pixels);
    const followed = hasView(this.#views) ? this.#follow(sample, this.#views, this.#kept) : undefined;
    const isLit = followed !== undefined && strongest(followed.marks) > MIN_LIGHT_KEPT * this.#strength;
    if (followed && isLit && at_ms - this.#lookedAt_ms < LOOK_AGAIN_MS) return this.#describe(pixels, sample, followed);
    const found = this.#search(pixels, sample, at_ms);
    if (found) return this.#describe(pixels, sample, found);
    // A whole look needs the words, so a little more light and sharpness than following does.
    if (followed) return this.#describe(pixels, sample, followed);
    this.#forgetPlace();
    return { outcome: 'unseen', code: this.#absence };
  }

  /** What blur was measured is kept: it belongs to the camera, not to where it looks. */
  #forgetPlace(): void {
    this.#views = {};
    this.#strength = 0;
  }

  #search(pixels: Pixels, sample: LightSampler, at_ms: number): Followed | undefined {
    this.#lookedAt_ms = at_ms;
    const detection = detectMarks(undefined, pixels, this.#chart);
    const upright = detection.marks.filter(({ mirrored }) => !mirrored);
    const reversed = detection.marks.length - upright.length;
    const seeds = fitSeeds(upright, pixels);
    const pose = reversed >= MIN_SEEDS && reversed > upright.length ? 'mirrored' : seeds && judgePose(seeds)?.code;
    if (pose) {
      this.#absence = pose;
      return undefined;
    }
    const found = seeds && this.#follow(sample, seeds.views, 0);
    if (found) return addFaint(sample, this.#chart, found, this.#leftFromRight);
    if (at_ms - this.#explainedAt_ms >= EXPLAIN_AGAIN_MS) {
      this.#explainedAt_ms = at_ms;
      this.#absence = explainAbsence(pixels, detection, upright.length).code;
    }
    return undefined;
  }

  #follow(sample: LightSampler, views: Views, before: number): Followed | undefined {
    let found = followAll(sample, this.#chart, views);
    if (found.count < NEARLY_KEPT * before || before === 0) found = followAll(sample, this.#chart, found.views);
    return found.count < MIN_SEEDS || found.count < MIN_KEPT * before ? undefined : found;
  }

  #describe(pixels: Pixels, sample: LightSampler, { views, marks, count }: Followed): SeenTarget {
    this.#views = views;
    if (views.left && views.right) {
      this.#leftFromRight = compose(invert(views.left.photoFromChart), views.right.photoFromChart);
    }
    this.#kept = count;
    this.#strength = strongest(marks);
    const eye: Eye = strengthOf(marks.left) >= strengthOf(marks.right) ? 'left' : 'right';
    const weaker = otherEye(eye);
    const seen = leakOf(marks[eye], marks[weaker]);
    const leak = seen === null || seen < FAINT ? (this.#measureFaint(sample, views, marks, eye) ?? seen) : seen;
    const shown = leak !== null && leak < FAINT ? { ...marks, [weaker]: [] } : marks;
    const view = views[eye]!;
    return { outcome: 'seen', eye, view, marks: shown, leak, blur_px: this.#measureBlur(pixels, view, marks[eye]) };
  }

  /** A leak where it should be, by all of its marks: those that can be followed are the brighter ones. */
  #measureFaint(sample: LightSampler, views: Views, marks: SeenTarget['marks'], eye: Eye): number | null {
    const weaker = otherEye(eye);
    const view = views[weaker] ?? viewBeside(views[eye]!, weaker, this.#leftFromRight);
    if (!view) return null;
    const faint = this.#chart.marks.flatMap((mark, index) => {
      const frame = mark.eye === weaker ? predictFrame(view, mark) : undefined;
      const light = frame && sampleQuadrants(sample, frame);
      return light ? [{ mark, index, centre: frame.centre, ...light }] : [];
    });
    const leak = leakOf(marks[eye], faint);
    return leak === null ? null : Math.max(0, leak);
  }

  /** A few marks in each frame, in turn, as photographs are measured. */
  #measureBlur(pixels: Pixels, view: View, marks: readonly FollowedMark[]): number | null {
    const wanted = this.#blurs.length === 0 ? BLUR_VALUES : BLUR_MARKS;
    const chosen = Array.from({ length: Math.min(wanted, marks.length) }, (_, k) => {
      // Steps of about a golden part of all marks visit the whole target before they come back.
      return marks[Math.floor((this.#nextBlur + k) * 0.618 * marks.length) % marks.length]!.mark;
    });
    this.#nextBlur = (this.#nextBlur + wanted) % 10_000;
    const expected = this.#blurs.length > 0 ? median(this.#blurs) : TYPICAL_BLUR_PX;
    const blurs = measureMarks(pixels, chosen, view, expected).map(({ blur_px }) => blur_px);
    this.#blurs = [...this.#blurs, ...blurs].slice(-BLUR_VALUES);
    return this.#blurs.length > 0 ? median(this.#blurs) : null;
  }
}

interface Followed {
  readonly views: Views;
  readonly marks: SeenTarget['marks'];
  readonly count: number;
}

function hasView(views: Views): boolean {
  return EYES.some((eye) => views[eye]);
}

/** All marks of the eyes with a view, and the views corrected by what they did. */
function followAll(sample: LightSampler, chart: Chart, views: Views): Followed {
  const marks: Record<Eye, FollowedMark[]> = { left: [], right: [] };
  const corrected: Partial<Record<Eye, View>> = {};
  for (const eye of EYES) {
    const view = views[eye];
    if (!view) continue;
    const expected: Point[] = [];
    const found: FollowedMark[] = [];
    for (const [index, mark] of chart.marks.entries()) {
      if (mark.eye !== eye) continue;
      const frame = predictFrame(view, mark);
      const followed = followCrossing(sample, frame);
      if (!followed) continue;
      expected.push(frame.centre);
      found.push({ mark, index, ...followed });
    }
    if (found.length < MIN_SEEDS) continue;
    const seen = found.map(({ centre }) => centre);
    const first = fitAffine(expected, seen);
    const agreeing = seen.map((p, i) => distance(apply(first, expected[i]!), p) < MAX_RESIDUAL_PX);
    const kept = (_: unknown, i: number) => agreeing[i]!;
    marks[eye] = found.filter(kept);
    if (marks[eye].length < MIN_SEEDS) continue;
    const correction = fitAffine(expected.filter(kept), seen.filter(kept));
    corrected[eye] = { ...view, photoFromChart: compose(correction, view.photoFromChart) };
  }
  return { views: corrected, marks, count: marks.left.length + marks.right.length };
}

function distance(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

function apply(h: Homography, { x, y }: Point): Point {
  return { x: h[0] * x + h[1] * y + h[2], y: h[3] * x + h[4] * y + h[5] };
}

/** The affine transform that carries `from` on to `to` best, by least squares; a shift where they stand in a line. */
function fitAffine(from: readonly Point[], to: readonly Point[]): Homography {
  const n = from.length;
  const centre = { x: from.reduce((sum, p) => sum + p.x, 0) / n, y: from.reduce((sum, p) => sum + p.y, 0) / n };
  const shift = {
    x: to.reduce((sum, p) => sum + p.x, 0) / n - centre.x,
    y: to.reduce((sum, p) => sum + p.y, 0) / n - centre.y,
  };
  const normal = createMatrix(2, 2);
  const right = { x: [0, 0], y: [0, 0] };
  for (let i = 0; i < n; i++) {
    const [dx, dy] = [from[i].x - centre.x, from[i].y - centre.y];
    normal.data[0] += dx * dx;
    normal.data[1] += dx * dy;
    normal.data[2] += dx * dy;
    normal.data[3] += dy * dy;
    for (const axis of ['x', 'y'] as const) {
      const moved = to[i][axis] - from[i][axis] - shift[axis];
      right[axis][0] += dx * moved;
      right[axis][1] += dy * moved;
    }
  }
  const [xx, xy] = choleskySolve(normal, right.x) ?? [0, 0];
  const [yx, yy] = choleskySolve(normal, right.y) ?? [0, 0];
  return [
    1 + xx,
    xy,
    shift.x - xx * centre.x - xy * centre.y,
    yx,
    1 + yy,
    shift.y - yx * centre.x - yy * centre.y,
    0,
    0,
    1,
  ];
}

function strengthOf(marks: readonly FollowedMark[]): number {
  return marks.length === 0 ? 0 : median(marks.map(({ bright, dark }) => bright - dark));
}

function strongest(marks: SeenTarget['marks']): number {
  return Math.max(strengthOf(marks.left), strengthOf(marks.right));
}

/**
 * A picture too faint for its words to be read is looked for where it lay when both were seen, which no movement of the
 * camera changes, and otherwise where the other one stands: two pictures that belong together are rarely farther apart than
 * a mark's crossing reaches.
 */
function addFaint(
  sample: LightSampler,
  chart: Chart,
  found: Followed,
  leftFromRight: Homography | undefined,
): Followed {
  const missing = EYES.find((eye) => !found.views[eye]);
  const view = missing && found.views[otherEye(missing)];
  if (!view) return found;
  const expected = viewBeside(view, missing, leftFromRight) ?? view;
  const faint = followAll(sample, chart, { [missing]: expected });
  const all = chart.marks.filter((mark) => mark.eye === missing).length;
  if (faint.count < MIN_FAINT_PART * all) return found;
  return {
    views: { ...found.views, ...faint.views },
    marks: { ...found.marks, [missing]: faint.marks[missing] },
    count: found.count + faint.count,
  };
}

/** The view of an eye's picture from the other one's; `undefined` where nobody knows how they lie apart. */
function viewBeside(other: View, eye: Eye, leftFromRight: Homography | undefined): View | undefined {
  if (!leftFromRight) return undefined;
  const apart = eye === 'right' ? leftFromRight : invert(leftFromRight);
  return { ...other, photoFromChart: compose(other.photoFromChart, apart) };
}

/** Weaker over stronger picture, mark by mark where each stands. */
function leakOf(stronger: readonly FollowedMark[], weaker: readonly FollowedMark[]): number | null {
  const surface = weaker.length >= MIN_SEEDS ? fitStrength(stronger.map(markStrength)) : undefined;
  return surface ? compareStrength(weaker.map(markStrength), surface, 0).value : null;
}

function markStrength({ mark, bright, dark }: FollowedMark): MarkStrength {
  return { at: mark, contrast: bright - dark, contrastU: STRENGTH_U };
}
