/**
 * The picture of one eye as filled shapes in chart coordinates (ih, y up), on black.
 */
import type { Eye } from '../kernel/eye.ts';
import { BRIGHT_AXIS_DEG, type Chart, type GreySteps, type Lettering, MARK_PROPORTIONS, type Mark } from './chart.ts';
import { bitCount, CODE_SECTORS } from './codebook.ts';
import { drawLadder } from './draw-ladder.ts';
import { drawText } from './glyphs.ts';
import { type Box, type Contour, place, rectangle, reversed, type Shape, sector } from './shapes.ts';

/** Width of the strokes of LEFT and RIGHT, as a fraction of the letters' height. */
const LETTER_STROKE = 0.18;

/** Width of the white line around the grey steps, ih. */
const STRIP_OUTLINE = 0.003;

export function drawPicture(chart: Chart, eye: Eye): readonly Shape[] {
  const own = <T extends { readonly eye: Eye }>(things: readonly T[]) => things.filter((thing) => thing.eye === eye);
  return [
    ...own(chart.marks).map(drawMark),
    ...own(chart.lettering).map(drawLettering),
    ...own(chart.greySteps).flatMap(drawGreySteps),
    ...own(chart.ladders).map(drawLadder),
  ];
}

/** The crossing and the ring are one shape, so that the coverage of quadrants that meet in one pixel adds up. */
export function drawMark(mark: Mark): Shape {
  const axis_deg = BRIGHT_AXIS_DEG[mark.eye];
  const { crossing, ringInner, ringOuter } = MARK_PROPORTIONS;
  const quadrant = (middle_deg: number) => sector(mark, 0, crossing * mark.radius, middle_deg - 45, middle_deg + 45);
  const turn_deg = 360 / CODE_SECTORS;
  const ring = litRuns(mark.word).map(({ first, count }) =>
    sector(
      mark,
      ringInner * mark.radius,
      ringOuter * mark.radius,
      axis_deg + first * turn_deg,
      axis_deg + (first + count) * turn_deg,
    ),
  );
  return { part: mark.id, level: 1, contours: [quadrant(axis_deg), quadrant(axis_deg + 180), ...ring] };
}

/** Runs of neighbouring lit sectors around the ring; a run may pass from the last sector on to the first. */
export function litRuns(word: number): { readonly first: number; readonly count: number }[] {
  if (bitCount(word) === CODE_SECTORS) return [{ first: 0, count: CODE_SECTORS }];
  const lit = (j: number) => ((word >>> (j % CODE_SECTORS)) & 1) === 1;
  const runs: { first: number; count: number }[] = [];
  for (let first = 0; first < CODE_SECTORS; first++) {
    if (!lit(first) || lit(first + CODE_SECTORS - 1)) continue;
    let count = 1;
    while (lit(first + count)) count++;
    runs.push({ first, count });
  }
  return runs;
}

/** The word, as large as the place allows; both words get letters of the same height. */
function drawLettering(lettering: Lettering): Shape {
  const widest = Math.max(...['LEFT', 'RIGHT'].map((text) => drawText(text, LETTER_STROKE).width));
  const height = Math.min(lettering.height, lettering.width / widest);
  const text = drawText(lettering.text, LETTER_STROKE);
  const foot = { x: lettering.x - (text.width * height) / 2, y: lettering.y - height / 2 };
  return {
    part: `lettering-${lettering.eye}`,
    level: 1,
    contours: text.contours.map((contour) => place(contour, foot, height)),
  };
}

/** The cells of the grey steps from left to right, inside the strip's white outline. */
export function greyCells(strip: GreySteps): (Box & { readonly level: number })[] {
  const left = strip.x - strip.width / 2 + STRIP_OUTLINE;
  const cell = (strip.width - 2 * STRIP_OUTLINE) / strip.levels.length;
  return strip.levels.map((level, i) => ({
    level,
    left: left + i * cell,
    right: left + (i + 1) * cell,
    bottom: strip.y - strip.height / 2 + STRIP_OUTLINE,
    top: strip.y + strip.height / 2 - STRIP_OUTLINE,
  }));
}

/**
 * Each step is painted from its left side to the strip's right end, the next one over it, and the outline over all
 * ends: no pixel at a joint is covered twice in part, so no joint shows a dark seam, in a raster or in a viewer.
 */
export function drawGreySteps(strip: GreySteps): Shape[] {
  const cells = greyCells(strip);
  const inside: Box = { ...cells[0]!, right: cells.at(-1)!.right };
  const half = STRIP_OUTLINE / 2;
  const steps = cells.map(({ level, left }, i): Shape => {
    const under = {
      left: i === 0 ? left - half : left,
      right: inside.right + half,
      bottom: inside.bottom - half,
      top: inside.top + half,
    };
    return { part: `grey-steps-${strip.eye}`, level, contours: [rectangle(under)] };
  });
  const outer: Box = {
    left: inside.left - STRIP_OUTLINE,
    right: inside.right + STRIP_OUTLINE,
    bottom: inside.bottom - STRIP_OUTLINE,
    top: inside.top + STRIP_OUTLINE,
  };
  const frame: Contour[] = [rectangle(outer), reversed(rectangle(inside))];
  return [...steps, { part: `grey-steps-${strip.eye}`, level: 1, contours: frame }];
}
