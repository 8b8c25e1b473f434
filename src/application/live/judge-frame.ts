/**
 * What one frame of the live picture shows, and the one thing to do next. The limits are those by which a photograph is
 * judged once it is taken, so that what the camera calls ready is not called poor a moment later.
 */
import { CLIPPING_CODE, surveyExposure } from '../../imaging/exposure.ts';
import type { Pixels } from '../../imaging/pixels.ts';
import { LINEAR_FROM_8BIT, srgbFromLinear } from '../../imaging/srgb.ts';
import { EYES, type Eye } from '../../kernel/eye.ts';
import { percentile } from '../../kernel/statistics.ts';
import { obliquityOf, pixelsPerHeight } from '../../kernel/view.ts';
import { BORDER_MARK_RADIUS, type Chart, MARK_PROPORTIONS } from '../../target/chart.ts';
import { MAX_BLUR } from '../shot/examine-shot.ts';
import type { AbsenceCode } from '../shot/explain-absence.ts';
import type { FollowedMark, SeenTarget, UnseenTarget } from './follow-target.ts';
import {
  ALIKE,
  BRIGHTEST_PERCENT,
  MIN_HEIGHT_PX,
  MIN_LIGHT,
  MAX_CLIPPED_MARKS,
  MAX_TRIED_DEG,
  MIN_PART_OF_MARKS,
} from '../shot/judge-shot.ts';

/** What to do next, most urgent first. */
export type FrameHint =
  | 'dark'
  | 'bright'
  | 'no-target'
  | 'mirrored'
  | 'upside-down'
  | 'oblique'
  | 'small'
  | 'few-marks'
  | 'soft'
  | 'both-eyes'
  | 'moving'
  | 'ready';

/** What is to be said of a frame whatever stood in the frames before it. */
export interface SeenFrame {
  /** `ready` where nothing but movement can be in the way. */
  readonly hint: FrameHint;
  /** The stronger picture, or both where they are alike; null without a target. */
  readonly shows: Eye | 'both' | null;
  /** Weaker over stronger picture; null where the weaker one is too faint to be found by itself. */
  readonly leak_pct: number | null;
  /** Frame px. */
  readonly marks: { readonly id: string; readonly eye: Eye; readonly x: number; readonly y: number }[];
  /** Marks of the shown eye on the target. */
  readonly expected: number;
  readonly blur_px: number | null;
  /** Share of the seen marks (without a target: of the frame) at the top of the scale. */
  readonly clipped_pct: number;
  /** Code of the brightest marks (without a target: of all but a thousandth of the frame) over full scale, 0 to 1. */
  readonly brightest: number;
}

/** Light from here up is clipped, on the scale of the bright quadrants' mean. */
const CLIPPED_LIGHT = LINEAR_FROM_8BIT[CLIPPING_CODE];
/** All but a thousandth of a frame below this code: no picture at all. */
const BLACK_CODE = 26;

/** A frame so dark that nothing in it is worth a look; costs a hundredth of looking. */
export function judgeDarkness(pixels: Pixels, chart: Chart): SeenFrame | undefined {
  const { code999, brightestCode } = surveyExposure(pixels);
  // A few bright marks in a black frame are a small target, not darkness.
  if (code999 >= BLACK_CODE || brightestCode >= 4 * BLACK_CODE) return undefined;
  return { ...nothingSeen(chart), hint: 'dark', clipped_pct: 0, brightest: code999 / 255 };
}

export function judgeUnseen({ code }: UnseenTarget, pixels: Pixels, chart: Chart): SeenFrame {
  const { code999, clippedFraction } = surveyExposure(pixels);
  return {
    ...nothingSeen(chart),
    hint: HINT_OF_ABSENCE[code],
    clipped_pct: 100 * clippedFraction,
    brightest: code999 / 255,
  };
}

const HINT_OF_ABSENCE: Readonly<Record<AbsenceCode, FrameHint>> = {
  underexposed: 'dark',
  overexposed: 'bright',
  'no-target': 'no-target',
  'inconsistent-marks': 'no-target',
  mirrored: 'mirrored',
  'upside-down': 'upside-down',
  'too-oblique': 'oblique',
  'too-few-marks': 'few-marks',
  blurred: 'soft',
};

function nothingSeen(chart: Chart) {
  return { shows: null, leak_pct: null, marks: [], expected: marksOf(chart, 'left'), blur_px: null };
}

export function judgeSeen(target: SeenTarget, chart: Chart): SeenFrame {
  const { eye, marks, leak, blur_px } = target;
  const all = EYES.flatMap((each) => marks[each]);
  const clipped = marks[eye].filter(({ bright }) => bright >= CLIPPED_LIGHT).length / marks[eye].length;
  const shows = leak !== null && leak > ALIKE ? 'both' : eye;
  return {
    hint: findFault(target, clipped, chart) ?? (shows === 'both' ? 'both-eyes' : 'ready'),
    shows,
    leak_pct: leak === null ? null : 100 * leak,
    marks: all.map(({ mark, centre }) => ({ id: mark.id, eye: mark.eye, x: centre.x, y: centre.y })),
    expected: marksOf(chart, eye),
    blur_px,
    clipped_pct: 100 * clipped,
    brightest: brightestCode(marks[eye]),
  };
}

function findFault({ eye, view, marks, blur_px }: SeenTarget, clipped: number, chart: Chart): FrameHint | undefined {
  const brightness = marks[eye].map(({ bright, dark }) => bright - dark);
  if (clipped > MAX_CLIPPED_MARKS) return 'bright';
  if (percentile(brightness, 50) < MIN_LIGHT) return 'dark';
  if (obliquityOf(view.photoFromChart) > MAX_TRIED_DEG) return 'oblique';
  const perIh_px = pixelsPerHeight(view);
  if (perIh_px < MIN_HEIGHT_PX) return 'small';
  if (marks[eye].length < MIN_PART_OF_MARKS * marksOf(chart, eye)) return 'few-marks';
  // Softer than this the smallest marks, which hold the corners, are worse off than the limit allows the large ones to be.
  const soft_px = MAX_BLUR * MARK_PROPORTIONS.crossing * BORDER_MARK_RADIUS * perIh_px;
  if (blur_px !== null && blur_px > soft_px) return 'soft';
  return undefined;
}

function marksOf(chart: Chart, eye: Eye): number {
  return chart.marks.filter((mark) => mark.eye === eye).length;
}

function brightestCode(marks: readonly FollowedMark[]): number {
  const light = percentile(
    marks.map(({ bright }) => bright),
    BRIGHTEST_PERCENT,
  );
  return srgbFromLinear(Math.min(1, Math.max(0, light)));
}
