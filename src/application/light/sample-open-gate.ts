/**
 * Light over the bright rectangle of an open gate: a grid of discs, each named by its column and row, so that the same place
 * of the screen can be found in another photograph. The rectangle's corners are taken as the picture's.
 */
import { estimateHomography } from '../../kernel/estimate-homography.ts';
import type { Point } from '../../kernel/point.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { pixelsPerHeight, plainLens, project, type View } from '../../kernel/view.ts';
import type { Pixels } from '../../imaging/pixels.ts';
import { findBrightPicture } from '../../vision/find-bright-picture.ts';
import { luminanceOf, type MarkLight, placeInFrame, sampleDisc } from '../shot/sample-light.ts';

export interface OpenGateLight {
  readonly outcome: 'sampled';
  readonly samples: readonly MarkLight[];
  /** Light beside the picture, linear. */
  readonly strayLight: number;
  /** The same over the picture's mean light. */
  readonly strayPart: number;
}

const COLUMNS = 17;
const ROWS = 9;
/** Discs stand this part of the picture inside its edges, where no blurred edge reaches. */
const INSET = 0.03;
/** ih */
const DISC_RADIUS_IH = 0.012;
/** Of the discs that may be burnt out. */
const MAX_CLIPPED = 0.02;
/** Mean linear light below which noise and black level rule. */
const MIN_LIGHT = 0.02;

export function sampleOpenGate(pixels: Pixels, aspect: number): OpenGateLight | Refusal<string> {
  const found = findBrightPicture(pixels);
  if (found.outcome === 'refused') return found;
  const view = viewOf(pixels, found.corners, aspect);
  if (!view) return refuse('picture-not-rectangular');
  const radius_px = Math.max(2, DISC_RADIUS_IH * pixelsPerHeight(view));
  const samples: MarkLight[] = [];
  for (let row = 0; row < ROWS; row++) {
    for (let column = 0; column < COLUMNS; column++) {
      const at = { x: along(column, COLUMNS) * aspect, y: -along(row, ROWS) };
      const centre = project(view, at);
      const disc = sampleDisc(pixels, centre, radius_px);
      if (!disc) continue;
      const channels = disc.length === 3 ? ([disc[0], disc[1], disc[2]] as const) : undefined;
      samples.push({
        id: `${column}-${row}`,
        at,
        place: placeInFrame(pixels, centre),
        ...luminanceOf(disc),
        channels,
      });
    }
  }
  const clipped = 1 - samples.length / (COLUMNS * ROWS);
  if (clipped > MAX_CLIPPED) return refuse('overexposed', { clipped_pct: 100 * clipped });
  const light = samples.reduce((sum, sample) => sum + sample.light, 0) / samples.length;
  if (light < MIN_LIGHT) return refuse('underexposed');
  return { outcome: 'sampled', samples, strayLight: found.surround * light, strayPart: found.surround };
}

/** -1/2 to 1/2 without the inset. */
function along(index: number, count: number): number {
  return (index / (count - 1) - 0.5) * (1 - 2 * INSET);
}

function viewOf({ width, height }: Pixels, corners: readonly Point[], aspect: number): View | undefined {
  const [right, top] = [aspect / 2, 0.5];
  const chart = [
    { x: -right, y: top },
    { x: right, y: top },
    { x: right, y: -top },
    { x: -right, y: -top },
  ];
  const estimate = estimateHomography(chart, corners);
  if (estimate.outcome === 'refused') return undefined;
  return { photoFromChart: estimate.homography, lens: plainLens(width, height) };
}
