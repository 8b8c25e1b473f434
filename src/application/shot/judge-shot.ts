/**
 * What an examined photograph shows, and what might be better about it though it can be measured.
 *
 * Each limit is tied to what measuring needs; what forbids measuring has been refused before.
 */
import { clippedFraction } from '../../imaging/exposure.ts';
import { srgbFromLinear } from '../../imaging/srgb.ts';
import { type Eye, otherEye } from '../../kernel/eye.ts';
import type { Measured } from '../../kernel/measured.ts';
import { median, percentile } from '../../kernel/statistics.ts';
import { obliquityOf, pixelsPerHeight } from '../../kernel/view.ts';
import { compareStrength, fitStrength, meanStrength } from '../../light/compare-pictures.ts';
import { BORDER_MARK_RADIUS, type Chart, MARK_PROPORTIONS } from '../../target/chart.ts';
import { frameExtent, predictFrame } from '../../vision/crossing-pixels.ts';
import type { MeasuredMark } from '../../vision/measure-marks.ts';

import type { ShotSlot } from '../../record/roles.ts';
import { type ExaminedShot, MAX_BLUR } from './examine-shot.ts';
import { placeInFrame } from './sample-light.ts';

/** What might be better, the most urgent first. */
export type ExaminationCode =
  | 'bright'
  | 'dim'
  | 'soft'
  | 'few-marks'
  | 'small'
  | 'oblique'
  | 'both-eyes'
  | 'good'
  /** Without glasses: both pictures are there, or one is missing. */
  | 'both-pictures'
  | 'one-picture';

export type ExaminationFacts = Readonly<Record<string, number | string>>;

export interface UsablePhoto {
  readonly outcome: 'usable';
  readonly code: ExaminationCode;
  /** Numbers behind the code, with their unit in the key. */
  readonly facts: ExaminationFacts;
  readonly shows: Eye | 'both';
  /** Weaker over stronger picture, percent; null where the weaker one is too faint to be found by itself. */
  readonly leak_pct: number | null;
  readonly blur_px: number;
  readonly clipped_pct: number;
  /** Code value of the brightest marks as a part of full scale, 0 to 1. */
  readonly brightest: number;
  /** Photo px. */
  readonly marks: readonly { readonly id: string; readonly eye: Eye; readonly x: number; readonly y: number }[];
  readonly expected: number;
}

/** Fewer marks than this part of those of an eye are worth a remark. */
export const MIN_PART_OF_MARKS = 0.9;
/** Burnt-out marks say nothing of strength, so of the leak; the few in a projector's hot spot are not missed. */
export const MAX_CLIPPED_MARKS = 0.05;
/**
 * Linear light of the marks at which a leak of 0.2 % is one step of an 8-bit file at its dark end (1 / 255 / 12.92), and
 * a fainter one is lost; the sensors behind deeper files count about as coarsely.
 */
export const MIN_LIGHT = 0.15;
/** Of fewer pixels to the picture height a movement that is refused (2e-4 of it) is a tenth of a pixel: no leak shows it. */
export const MIN_HEIGHT_PX = 500;
/** The benchmark of hard photographs reaches to this angle. */
export const MAX_TRIED_DEG = 35;
/** From this part of the other one's strength on, two pictures count as alike, as in telling the eyes apart. */
export const ALIKE = 0.5;
/** The brightest marks: all but one in twenty are no brighter. */
export const BRIGHTEST_PERCENT = 95;

export function judgeShot(shot: ExaminedShot, chart: Chart, slot: ShotSlot): UsablePhoto {
  const eye = strongerEye(shot);
  const leak = leakOf(shot, eye);
  const shows = leak !== null && leak.value > ALIKE ? 'both' : eye;
  const expected = chart.marks.filter((mark) => mark.eye === eye).length;
  const sound: Fault = slot === 'bare' ? judgeBare(eye, leak) : [shows === 'both' ? 'both-eyes' : 'good', {}];
  const [code, facts] = findFault(shot, eye, expected) ?? sound;
  return {
    outcome: 'usable',
    code,
    facts: { ...facts, found: shot.marks[eye].length, expected },
    shows,
    leak_pct: leak === null ? null : 100 * leak.value,
    blur_px: shot.blur_px,
    clipped_pct: 100 * clippedShare(shot),
    brightest: brightestCode(shot.marks[eye]),
    marks: [...shot.marks.left, ...shot.marks.right].map(({ mark: { id, eye: of }, centre }) => ({
      id,
      eye: of,
      x: centre.x,
      y: centre.y,
    })),
    expected,
  };
}

type Fault = readonly [ExaminationCode, UsablePhoto['facts']];

function findFault(shot: ExaminedShot, eye: Eye, expected: number): Fault | undefined {
  const marks = shot.marks[eye];
  const view = shot.fit.views[eye]!;
  const perIh_px = pixelsPerHeight(view);

  const clipped = marks.filter((mark) => mark.clipped).length;
  if (clipped > MAX_CLIPPED_MARKS * marks.length) return ['bright', { clipped }];
  const light = median(marks.map(({ contrast }) => contrast));
  if (light < MIN_LIGHT) return ['dim', { light_pct: 100 * light, limit_pct: 100 * MIN_LIGHT }];
  // Softer than this the smallest marks, which hold the corners, are worse off than the limit allows the large ones to be.
  const soft_px = MAX_BLUR * MARK_PROPORTIONS.crossing * BORDER_MARK_RADIUS * perIh_px;
  if (shot.blur_px > soft_px) return ['soft', { blur_px: shot.blur_px, limit_px: soft_px }];
  if (marks.length < MIN_PART_OF_MARKS * expected) return ['few-marks', {}];
  if (perIh_px < MIN_HEIGHT_PX) return ['small', { height_px: perIh_px, limit_px: MIN_HEIGHT_PX }];
  const angle_deg = obliquityOf(view.photoFromChart);
  if (angle_deg > MAX_TRIED_DEG) return ['oblique', { angle_deg, limit_deg: MAX_TRIED_DEG }];
  return undefined;
}

export function strongerEye({ fit, marks }: ExaminedShot): Eye {
  const strength = (eye: Eye) => (fit.views[eye] ? median(marks[eye].map(({ contrast }) => contrast)) : 0);
  return strength('left') >= strength('right') ? 'left' : 'right';
}

/** Without glasses both pictures should be there; how their light compares is theirs alone, no lens has taken any. */
function judgeBare(stronger: Eye, share: Measured | null): Fault {
  const weaker = otherEye(stronger);
  if (share === null || share.value <= ALIKE) {
    return ['one-picture', { weaker, ...(share && { share_pct: 100 * share.value }) }];
  }
  return ['both-pictures', { weaker, share_pct: 100 * share.value, share_u_pct: 100 * share.u }];
}

/** Weaker over stronger picture; null where the weaker one was not found by itself. */
function leakOf({ fit, marks, pixels }: ExaminedShot, stronger: Eye): Measured | null {
  const weaker = otherEye(stronger);
  if (!fit.views[weaker]) return null;
  const [strong, weak] = [stronger, weaker].map((eye) =>
    marks[eye].filter((mark) => !mark.clipped).map((mark) => ({ ...mark, at: placeInFrame(pixels, mark.centre) })),
  );
  const surface = fitStrength(strong!);
  if (surface && weak!.length > 0) return compareStrength(weak!, surface, 0);
  const [over, under] = [meanStrength(weak!), meanStrength(strong!)];
  const value = over.value / (under.value || 1);
  return { value, u: Math.hypot(over.u, value * under.u) / (under.value || 1) };
}

/** Share of the pixels around the crossings of all marks that stand at the top of the scale. */
function clippedShare({ pixels, fit, marks }: ExaminedShot): number {
  let clipped = 0;
  let all = 0;
  for (const { mark, centre } of [...marks.left, ...marks.right]) {
    const view = fit.views[mark.eye];
    if (!view) continue;
    const { x, y } = frameExtent(predictFrame(view, mark));
    const x0 = Math.max(0, Math.floor(centre.x - x));
    const y0 = Math.max(0, Math.floor(centre.y - y));
    const width = Math.min(pixels.width, Math.ceil(centre.x + x) + 1) - x0;
    const height = Math.min(pixels.height, Math.ceil(centre.y + y) + 1) - y0;
    clipped += clippedFraction(pixels, x0, y0, width, height) * width * height;
    all += width * height;
  }
  return all > 0 ? clipped / all : 0;
}

function brightestCode(marks: readonly MeasuredMark[]): number {
  const light = percentile(
    marks.map(({ dark, contrast }) => dark + contrast),
    BRIGHTEST_PERCENT,
  );
  return srgbFromLinear(Math.min(1, Math.max(0, light)));
}
