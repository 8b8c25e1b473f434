/**
 * The chart: where every mark, patch, ladder and word of the alignment target stands.
 *
 * Chart frame: origin at the picture centre, x right, y up, unit = picture height (ih). Both eyes share it.
 *
 * The marks stand on one lattice, left-eye and right-eye marks in turn like the two colours of a checkerboard, so
 * that a photograph that shows both pictures (a leak, or no polarizer at all) shows no mark upon another while the
 * pictures are within `CLEARANCE` of each other. The outermost marks are smaller, which lets their centres stand at
 * 95 % of the picture's width and height. Lettering, grey steps and edge ladders take the place of some marks; the
 * place is left black in the other eye's picture.
 */
import type { Eye } from '../kernel/eye.ts';
import { createRandom } from '../kernel/random.ts';
import { codeWords } from './codebook.ts';
import { ASPECT_RANGE, DEFAULT_ASPECT } from '../kernel/aspect.ts';

/** Free black distance between things of different eyes, in ih: 3 % both ways at once. */
export const CLEARANCE = 0.0425;

/** How far a ladder's place reaches beyond the centre line of its last rung, for that rung's number, ih. */
export const LADDER_OVERHANG = 0.0065;

export const BORDER_MARK_RADIUS = 0.0245;

/** Radii within a mark, as fractions of its radius. */
export const MARK_PROPORTIONS = { crossing: 0.6, ringInner: 0.75, ringOuter: 1 } as const;

/** The bright axis of a mark's crossing, counter-clockwise from x: upright in the left eye's marks, lying in the right eye's. */
export const BRIGHT_AXIS_DEG: Readonly<Record<Eye, number>> = { left: 77, right: -13 };

/** Fraction of the picture's width and height within which the centres of the outermost marks stand. */
export const SPREAD = 0.95;

/**
 * How close the marks stand. Wide pictures hold enough marks on seven rows; narrower ones need more and smaller
 * marks to keep at least 45 for each eye.
 */
interface Density {
  readonly rows: number;
  readonly leastColumnPitch: number;
  /** Outer radius of the inner marks, ih. */
  readonly innerRadius: number;
}
const WIDE: Density = { rows: 7, leastColumnPitch: 0.135, innerRadius: 0.045 };
const NARROW: Density = { rows: 9, leastColumnPitch: 0.105, innerRadius: 0.03 };
/** Below 2.28 seven rows of wide-set marks hold fewer than 45 for each eye. */
const WIDE_FROM_ASPECT = 2.3;

export interface Mark {
  /** Eye, row and column: `L-0-06`. */
  readonly id: string;
  readonly eye: Eye;
  readonly kind: 'inner' | 'border';
  /** Centre of the crossing, ih. */
  readonly x: number;
  readonly y: number;
  /** Outer radius of the ring, ih. */
  readonly radius: number;
  /** Ring code, see codebook.ts. */
  readonly word: number;
}

/** A rectangle kept for something other than marks; x, y is its centre, ih. */
export interface Place {
  readonly eye: Eye;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface Lettering extends Place {
  readonly text: 'LEFT' | 'RIGHT';
}

export interface GreySteps extends Place {
  /** Linear light of the steps from left to right, 1 = full white. */
  readonly levels: readonly number[];
}

export type Edge = 'top' | 'bottom' | 'left' | 'right';

export interface EdgeLadder extends Place {
  readonly edge: Edge;
  /** The rungs, in percent of the picture's height (top, bottom) or width (left, right), counted from the edge. */
  readonly rungs_pct: readonly number[];
}

export interface Chart {
  /** Picture width divided by picture height. */
  readonly aspect: number;
  readonly rows: number;
  readonly columns: number;
  readonly marks: readonly Mark[];
  readonly lettering: readonly Lettering[];
  readonly greySteps: readonly GreySteps[];
  readonly ladders: readonly EdgeLadder[];
}

interface Slot {
  readonly row: number;
  readonly column: number;
}

function eyeOfSlot({ row, column }: Slot): Eye {
  return (row + column) % 2 === 0 ? 'left' : 'right';
}

function slotId(slot: Slot): string {
  const eye = eyeOfSlot(slot) === 'left' ? 'L' : 'R';
  return `${eye}-${slot.row}-${String(slot.column).padStart(2, '0')}`;
}

/** Lays the chart out for a picture shape. Throws RangeError outside `ASPECT_RANGE`. */
export function layoutChart(aspect: number = DEFAULT_ASPECT): Chart {
  if (!(aspect >= ASPECT_RANGE.min && aspect <= ASPECT_RANGE.max)) {
    throw new RangeError(
      `the picture shape must lie between ${ASPECT_RANGE.min} and ${ASPECT_RANGE.max}, not ${aspect}`,
    );
  }
  const { rows, leastColumnPitch, innerRadius } = aspect >= WIDE_FROM_ASPECT ? WIDE : NARROW;
  const middleRow = (rows - 1) / 2;
  const halfColumns = Math.floor((SPREAD * aspect) / 2 / leastColumnPitch);
  const columns = 2 * halfColumns + 1;
  const columnPitch = (SPREAD * aspect) / (columns - 1);
  const rowPitch = SPREAD / (rows - 1);
  const xOf = (column: number) => (column - halfColumns) * columnPitch;
  const yOf = (row: number) => (middleRow - row) * rowPitch;

  const taken = new Set<string>();
  const take = (slot: Slot) => taken.add(slotId(slot));

  // A word or a row of grey steps stands in the middle of each half and takes four neighbouring slots (three on narrow pictures).
  const blockSlots = halfColumns >= 7 ? 4 : 3;
  const block = (side: 'left' | 'right', row: number): Omit<Place, 'eye'> => {
    const first = Math.round((halfColumns - 1 - blockSlots) / 2) + 1;
    const own = side === 'left' ? first : columns - first - blockSlots;
    for (let k = 0; k < blockSlots; k++) take({ row, column: own + k });
    return {
      x: (xOf(own) + xOf(own + blockSlots - 1)) / 2,
      y: yOf(row),
      width: (blockSlots + 1) * columnPitch - 2 * (innerRadius + CLEARANCE),
      height: 2 * rowPitch - 2 * (innerRadius + CLEARANCE),
    };
  };
  const lettering: Lettering[] = [
    { eye: 'left', text: 'LEFT', ...block('left', middleRow - 1) },
    { eye: 'right', text: 'RIGHT', ...block('right', middleRow - 1) },
  ];
  const levels = [1, 0.5, 0.25, 0.125, 0.0625, 0];
  const greySteps: GreySteps[] = [
    { eye: 'left', levels, ...block('left', middleRow + 1) },
    { eye: 'right', levels, ...block('right', middleRow + 1) },
  ];

  const ladders = layoutLadders({
    aspect,
    rows,
    columns,
    across: Math.min(0.1, rowPitch - CLEARANCE - 0.001),
    xOf,
    yOf,
    take,
  });

  const free: Slot[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++)
      if (!taken.has(slotId({ row, column }))) free.push({ row, column });
  }
  const words = shuffledWords(free.length, aspect);
  const marks = free.map((slot, index): Mark => {
    const border = slot.row === 0 || slot.row === rows - 1 || slot.column === 0 || slot.column === columns - 1;
    return {
      id: slotId(slot),
      eye: eyeOfSlot(slot),
      kind: border ? 'border' : 'inner',
      x: xOf(slot.column),
      y: yOf(slot.row),
      radius: border ? BORDER_MARK_RADIUS : innerRadius,
      word: words[index]!,
    };
  });
  return { aspect, rows, columns, marks, lettering, greySteps, ladders };
}

/**
 * Each eye has a ladder at each edge, in a slot of its own colour. Top and bottom ladders stand one slot off the
 * picture's middle, side ladders in the middle row and the row beside it.
 */
function layoutLadders(lattice: {
  readonly aspect: number;
  readonly rows: number;
  readonly columns: number;
  /** Length of the rungs with their numbers, ih. */
  readonly across: number;
  readonly xOf: (column: number) => number;
  readonly yOf: (row: number) => number;
  readonly take: (slot: Slot) => void;
}): EdgeLadder[] {
  const { aspect, rows, columns, across, xOf, yOf, take } = lattice;
  const middle = (columns - 1) / 2;
  const middleRow = (rows - 1) / 2;
  const ladders: EdgeLadder[] = [];
  const add = (edge: Edge, slot: Slot) => {
    take(slot);
    const upright = edge === 'top' || edge === 'bottom';
    const rungs_pct = upright ? [0, 1, 2, 3, 4, 5, 6, 7] : [0, 1, 2, 3, 4];
    const depth = (rungs_pct.at(-1)! / 100) * (upright ? 1 : aspect) + LADDER_OVERHANG;
    const sign = edge === 'top' || edge === 'right' ? 1 : -1;
    ladders.push({
      eye: eyeOfSlot(slot),
      edge,
      rungs_pct,
      x: upright ? xOf(slot.column) : (sign * (aspect - depth)) / 2,
      y: upright ? (sign * (1 - depth)) / 2 : yOf(slot.row),
      width: upright ? across : depth,
      height: upright ? depth : across,
    });
  };
  for (const [edge, row] of [
    ['top', 0],
    ['bottom', rows - 1],
  ] as const) {
    add(edge, { row, column: middle - 1 });
    add(edge, { row, column: middle + 2 });
  }
  for (const [edge, column] of [
    ['left', 0],
    ['right', columns - 1],
  ] as const) {
    add(edge, { row: middleRow, column });
    add(edge, { row: edge === 'left' ? middleRow - 1 : middleRow + 1, column });
  }
  return ladders;
}

/**
 * Deals the words out in an order that depends on the picture shape: a chart drawn for another shape is then read as
 * nonsense, not as this chart displaced.
 */
function shuffledWords(count: number, aspect: number): number[] {
  const words = [...codeWords(count)];
  const random = createRandom(Math.round(aspect * 1000));
  for (let i = words.length - 1; i > 0; i--) {
    const j = Math.floor(random.uniform() * (i + 1));
    [words[i], words[j]] = [words[j]!, words[i]!];
  }
  return words;
}
