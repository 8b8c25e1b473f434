/**
 * Whether a stray copy is worth searching for, from the crossing-like places that the first look found anyway.
 *
 * Places that the pictures explain are left out. Each of the others, less each mark, is a displacement; at that of a copy
 * many of them meet, elsewhere only a few by chance. The search itself takes many times as long.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import { invert, transfer } from '../kernel/homography.ts';
import type { Point } from '../kernel/point.ts';
import { median } from '../kernel/statistics.ts';
import { pixelsPerHeight, project, type View } from '../kernel/view.ts';
import type { Chart } from '../target/chart.ts';

/** Farthest displacement that is looked for, ih. */
export const STRAY_RANGE = { x: 0.6, y: 1.05 } as const;

/** Side of a cell of displacements, ih: what places and lens distortion scatter. */
const CELL_IH = 0.016;
/** The strongest places count: two copies have no more marks, and what comes after is noise. */
const MAX_PLACES = 130;
/** Around a mark, as a part of its radius: the corners of its ring belong to it. */
const MARK_REACH = 1.25;
/**
 * So many must meet, and so many deviations more than the most that meet anywhere else. What the pictures do not explain
 * lies between their marks, so that on the marks' lattice chance meets far more often than it would on average; and a
 * copy's own marks meet again a lattice step aside.
 */
const MIN_MEETING = 7;
const MIN_DEVIATIONS = 3.5;
/** Side of a block of cells, about a step of the lattice: the most in each block is what chance does. */
const BLOCK_CELLS = 11;

interface DetectedPlaces {
  readonly places: readonly Point[];
}

/**
 * Whether so many places were seen that no mark explains that a second copy of the picture may be among them.
 *
 * @example
 * const suspected = (['left', 'right'] as const).filter((lens) => suspectStray(shots[lens], chart, views));
 */
export function suspectStray({ places }: DetectedPlaces, chart: Chart, views: Readonly<Record<Eye, View>>): boolean {
  const explained = explainedPlaces(chart, views);
  const strangers = places.filter((place) => !explained(place)).slice(0, MAX_PLACES);
  if (strangers.length < MIN_MEETING) return false;
  return EYES.some((eye) => {
    const back = invert(views[eye].photoFromChart);
    const marks = chart.marks.filter((mark) => mark.eye === eye);
    return doMeet(
      strangers.map((place) => transfer(back, place)),
      marks,
    );
  });
}

/** Whether more displacements from marks to places meet in one place than chance brings together elsewhere. */
function doMeet(places: readonly Point[], marks: readonly Point[]): boolean {
  const columns = BLOCK_CELLS * Math.ceil((2 * STRAY_RANGE.x) / CELL_IH / BLOCK_CELLS);
  const rows = BLOCK_CELLS * Math.ceil((2 * STRAY_RANGE.y) / CELL_IH / BLOCK_CELLS);
  const votes = new Uint16Array(columns * rows);
  for (const place of places) castVotes(votes, columns, rows, place, marks);
  const blocksAcross = columns / BLOCK_CELLS;
  const most = new Uint16Array(votes.length / BLOCK_CELLS ** 2);
  for (let row = 0; row + 1 < rows; row++) {
    const block = Math.floor(row / BLOCK_CELLS) * blocksAcross;
    for (let column = 0, i = row * columns; column + 1 < columns; column++, i++) {
      // Four cells around a corner hold a copy wherever its displacement lies between them.
      const meeting = votes[i] + votes[i + 1] + votes[i + columns] + votes[i + columns + 1];
      const at = block + Math.floor(column / BLOCK_CELLS);
      if (meeting > most[at]) most[at] = meeting;
    }
  }
  const usual = median(most);
  return Math.max(...most) >= Math.max(MIN_MEETING, usual + MIN_DEVIATIONS * Math.sqrt(usual));
}

/** One vote for the displacement of the place from each mark. */
function castVotes(votes: Uint16Array, columns: number, rows: number, place: Point, marks: readonly Point[]): void {
  for (const mark of marks) {
    const column = Math.floor((place.x - mark.x + STRAY_RANGE.x) / CELL_IH);
    const row = Math.floor((place.y - mark.y + STRAY_RANGE.y) / CELL_IH);
    if (column >= 0 && row >= 0 && column < columns && row < rows) votes[row * columns + column]++;
  }
}

/** Tells the places on what the pictures show. */
function explainedPlaces(chart: Chart, views: Readonly<Record<Eye, View>>): (place: Point) => boolean {
  const perIh_px = pixelsPerHeight(views.left);
  const things = EYES.flatMap((eye) => [
    ...chart.marks
      .filter((mark) => mark.eye === eye)
      .map((mark) => around(views[eye], mark, MARK_REACH * mark.radius * perIh_px)),
    ...[...chart.lettering, ...chart.greySteps, ...chart.ladders]
      .filter((place) => place.eye === eye)
      .map((place) => ({
        ...around(views[eye], place, 0),
        halfWidth: (0.5 * place.width + MARGIN_IH) * perIh_px,
        halfHeight: (0.5 * place.height + MARGIN_IH) * perIh_px,
      })),
  ]);
  // Sorted into columns, so that each place is compared with the few things near it.
  const widest = Math.max(...things.map(({ halfWidth }) => halfWidth));
  const sorted = things.sort((a, b) => a.x - b.x);
  return ({ x, y }) => {
    for (let i = firstFrom(sorted, x - widest); i < sorted.length && sorted[i]!.x <= x + widest; i++) {
      const thing = sorted[i]!;
      if (Math.abs(thing.x - x) <= thing.halfWidth && Math.abs(thing.y - y) <= thing.halfHeight) return true;
    }
    return false;
  };
}

const MARGIN_IH = 0.012;

interface Thing extends Point {
  readonly halfWidth: number;
  readonly halfHeight: number;
}

function around(view: View, at: Point, reach_px: number): Thing {
  return { ...project(view, at), halfWidth: reach_px, halfHeight: reach_px };
}

function firstFrom(sorted: readonly Thing[], x: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]!.x < x) low = middle + 1;
    else high = middle;
  }
  return low;
}
