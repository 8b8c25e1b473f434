/**
 * A ladder that counts percent from a picture edge: how much of the picture the aperture plate or the masking takes.
 *
 * Rung k is a line parallel to the edge whose centre line stands k percent from it. The edge itself is rung 0: a line
 * over the ladder's whole length that lies just inside the picture, its outer side on the edge. Even numbers stand at
 * one end of the rungs, odd ones at the other, each centred on its rung. At the top and bottom, where rungs stand
 * close, 0 and the percent sign hang under the overhanging ends of rung 0; at the sides 0 heads the even numbers.
 */
import { type EdgeLadder, LADDER_OVERHANG } from './chart.ts';
import { drawGlyph } from './glyphs.ts';
import { type Box, type Contour, place, rectangle, type Shape } from './shapes.ts';

/** Thickness of a rung, ih. */
export const RUNG_THICKNESS = 0.002;

/** Height of the figures, ih: twice the overhang, so that the last one reaches the end of the place. */
const FIGURE_HEIGHT = 2 * LADDER_OVERHANG;
const FIGURE_STROKE = 0.16;

/** Free space around a figure, ih. */
const GAP = 0.0035;

/** Distance of rung k's centre line from the edge, ih. */
export function rungDepth(ladder: EdgeLadder, rung_pct: number): number {
  const depth = liesAcross(ladder) ? ladder.height : ladder.width;
  return ((depth - LADDER_OVERHANG) * rung_pct) / ladder.rungs_pct.at(-1)!;
}

/** True for ladders at the top and bottom, whose rungs lie across. */
function liesAcross({ edge }: EdgeLadder): boolean {
  return edge === 'top' || edge === 'bottom';
}

export function drawLadder(ladder: EdgeLadder): Shape {
  const half = (liesAcross(ladder) ? ladder.width : ladder.height) / 2;
  const zero = drawGlyph('0', FIGURE_STROKE);
  // Room that a column of figures takes from the length of the rungs.
  const column = (liesAcross(ladder) ? zero.width : 1) * FIGURE_HEIGHT + GAP;
  const overhang = liesAcross(ladder) ? column : 0;
  const rungEnd = half - overhang - column;

  const contours: Contour[] = [];
  const figure = (text: string, depth: number, along: number) => {
    const { width, contours: outlines } = drawGlyph(text, FIGURE_STROKE);
    const scale = Math.min(FIGURE_HEIGHT, (FIGURE_HEIGHT * zero.width) / width);
    const { left, bottom } = boxAt(ladder, [depth, depth], [along, along]);
    const foot = { x: left - (width * scale) / 2, y: bottom - scale / 2 };
    contours.push(...outlines.map((outline) => place(outline, foot, scale)));
  };
  for (const rung_pct of ladder.rungs_pct) {
    const depth = rungDepth(ladder, rung_pct);
    if (rung_pct === 0) {
      contours.push(rectangle(boxAt(ladder, [0, RUNG_THICKNESS], [-half, half])));
      continue;
    }
    const thick = RUNG_THICKNESS / 2;
    contours.push(rectangle(boxAt(ladder, [depth - thick, depth + thick], [-rungEnd, rungEnd])));
    const end = rung_pct % 2 === 0 ? 1 : -1;
    figure(String(rung_pct), depth, end * (rungEnd + (column + GAP) / 2));
  }
  const headSize = (liesAcross(ladder) ? 1 : zero.width) * FIGURE_HEIGHT;
  const headDepth = RUNG_THICKNESS + GAP + headSize / 2;
  if (liesAcross(ladder)) {
    figure('0', headDepth, half - (column - GAP) / 2);
    figure('%', headDepth, -half + (column - GAP) / 2);
  } else figure('0', headDepth, rungEnd + (column + GAP) / 2);
  return { part: `ladder-${ladder.eye}-${ladder.edge}`, level: 1, contours };
}

/** The box between two distances from the edge and two positions along it (from the ladder's middle; x right or y up). */
function boxAt(ladder: EdgeLadder, depths: readonly [number, number], along: readonly [number, number]): Box {
  const inward = ladder.edge === 'top' || ladder.edge === 'right' ? -1 : 1;
  const across = liesAcross(ladder);
  const edge = across ? ladder.y - (inward * ladder.height) / 2 : ladder.x - (inward * ladder.width) / 2;
  const [near, far] = [edge + inward * depths[0], edge + inward * depths[1]];
  const [low, high] = [Math.min(near, far), Math.max(near, far)];
  const middle = across ? ladder.x : ladder.y;
  const [start, stop] = [middle + along[0], middle + along[1]];
  return across
    ? { left: start, right: stop, bottom: low, top: high }
    : { left: low, right: high, bottom: start, top: stop };
}
