/**
 * How a leak lies over the picture: alike everywhere, smoothly different, or in one place only.
 *
 *   even     m_i = a
 *   smooth   m_i = a + b x + c y + d x^2 + e x y + f y^2
 *   patch    m_i = a + b w(|p_i - p0| / R),   w(r) = (1 - r^2)^2 for r < 1, otherwise 0
 *
 * m_i is the mean of both lenses' leaks in a cell of the map: what screen and port glass do shows through both, while a
 * difference in how the two pictures' light falls over the screen raises one leak where it lowers the other.
 *
 * `even` is given up where two things hold: the cells scatter so that chance alone would do it once in `CHANCE` houses,
 * and the leak is so much stronger somewhere that an eye would see it. Between the other two the better fit decides,
 * each further parameter costing ln n / 2 in the logarithm of the likelihood (Schwarz 1978). A cell's own uncertainty holds the
 * scatter of its marks, which a patch makes large; under `even` all cells scatter as most of them do, so none counts as
 * worse known than `MIN_KNOWN` times the middle one.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Point } from '../kernel/point.ts';
import { chiSquaredUpperTail, median } from '../kernel/statistics.ts';
import { type EyeMatrix, MAP_COLUMNS, MAP_ROWS } from './eye-matrix.ts';
import { solveWeighted } from './solve-weighted.ts';

export const CROSSTALK_SHAPES = ['even', 'smooth', 'patch'] as const;
export type CrosstalkShape = (typeof CROSSTALK_SHAPES)[number];

/** Leaks are weaker over stronger picture, as parts. */
export interface CrosstalkSurvey {
  readonly shape: CrosstalkShape;
  /** Chance of cells that scatter so where the leak is even. */
  readonly chance: number;
  /** Mean over the picture through each lens: each part of the picture counts alike, however many marks it holds. */
  readonly mean: Readonly<Record<Eye, Measured>>;
  /** The cell where the leak through the two lenses together is strongest: its middle, ih, and the leak there. */
  readonly strongest: Measured & { readonly at: Point };
}

/** Fewer cells do not show a shape. */
const MIN_CELLS = 9;
const CHANCE = 1e-6;
/** What even a leak of turned polarizers varies by over the picture, as a part of itself. An assumption of ours. */
const TYPICAL_VARIATION = 0.05;
/** From where on a leak that differs is worth a word: 0.3 % of the picture, and a third of the least. */
const MIN_EXCESS = 0.003;
const MIN_PART = 1 / 3;
const MIN_KNOWN = 3;
/** Radii of a patch, ih; its middle is looked for at the cells' middles and half way between them. */
const RADII_IH = [0.3, 0.45, 0.7];
const PARAMETERS = { smooth: 6, patch: 5 };
/** Neither form is exact: what may be left of the largest difference. */
const FORM_U = 0.1;

interface Cell {
  readonly at: Point;
  readonly leak: number;
  /** Under an even leak. */
  readonly u: number;
}

/**
 * `undefined` where too little of the picture could be measured through both lenses.
 *
 * @example
 * surveyCrosstalk(eyeMatrix.maps, 2.35)?.shape; // 'even', 'smooth' or 'patch'
 */
export function surveyCrosstalk(maps: EyeMatrix['maps'], aspect: number): CrosstalkSurvey | undefined {
  const cells = listCells(maps, aspect);
  if (cells.length < MIN_CELLS) return undefined;
  const leaks = cells.map(({ leak }) => leak);
  const usual = Math.max(median(leaks), 0);
  const known = cells.map((cell) => ({ ...cell, u: Math.hypot(cell.u, TYPICAL_VARIATION * usual) }));
  const even = solveWeighted(known.map(({ leak, u }) => ({ row: [1], value: leak, u })))!;
  const chance = chiSquaredUpperTail(even.chiSquared, even.redundancy);
  const strongest = cells.reduce((best, cell) => (cell.leak > best.leak ? cell : best));
  const excess = strongest.leak - Math.min(...leaks);
  const isVisible = excess > Math.max(MIN_EXCESS, MIN_PART * Math.max(0, Math.min(...leaks)));
  const shape = chance < CHANCE && isVisible ? tellShape(cells, FORM_U * excess) : 'even';
  return {
    shape,
    chance,
    mean: { left: meanOf(maps.left), right: meanOf(maps.right) },
    strongest: { value: strongest.leak, u: strongest.u, at: strongest.at },
  };
}

function listCells(maps: EyeMatrix['maps'], aspect: number): Cell[] {
  const cells = Array.from({ length: MAP_COLUMNS * MAP_ROWS }, (_, i) => {
    const [left, right] = EYES.map((lens) => maps[lens][i]);
    if (!left || !right) return undefined;
    const column = i % MAP_COLUMNS;
    const row = Math.floor(i / MAP_COLUMNS);
    const at = { x: aspect * ((column + 0.5) / MAP_COLUMNS - 0.5), y: 0.5 - (row + 0.5) / MAP_ROWS };
    return { at, leak: (left.value + right.value) / 2, u: Math.hypot(left.u, right.u) / 2 };
  }).filter((cell) => cell !== undefined);
  const strongest = cells.length > 0 ? MIN_KNOWN * median(cells.map(({ u }) => u)) : 0;
  return cells.map((cell) => ({ ...cell, u: Math.min(cell.u, strongest) }));
}

function meanOf(map: readonly (Measured | null)[]): Measured {
  const cells = map.filter((cell) => cell !== null);
  const n = cells.length;
  return {
    value: cells.reduce((sum, { value }) => sum + value, 0) / n,
    u: Math.sqrt(cells.reduce((sum, { u }) => sum + u * u, 0)) / n,
  };
}

function tellShape(cells: readonly Cell[], formU: number): 'smooth' | 'patch' {
  const known = cells.map(({ at, leak, u }) => ({ at, value: leak, u: Math.hypot(u, formU) }));
  const smooth = solveWeighted(
    known.map(({ at: { x, y }, value, u }) => ({ row: [1, x, y, x * x, x * y, y * y], value, u })),
  );
  const left = listCentres(cells).flatMap((centre) => RADII_IH.map((radius) => leftByPatch(known, centre, radius)));
  const cost = Math.log(cells.length);
  const [patchy, smoothly] = [Math.min(...left) + PARAMETERS.patch * cost, PARAMETERS.smooth * cost];
  return !smooth || patchy < smooth.chiSquared + smoothly ? 'patch' : 'smooth';
}

type KnownLeak = Measured & { readonly at: Point };

/** Chi-squared of the straight line through the leaks over w; of a constant where no cell lies in the patch. */
function leftByPatch(leaks: readonly KnownLeak[], centre: Point, radius: number): number {
  const points = leaks.map(({ at, value, u }) => ({
    w: bump(Math.hypot(at.x - centre.x, at.y - centre.y) / radius),
    value,
    weight: u ** -2,
  }));
  const weights = points.reduce((sum, { weight }) => sum + weight, 0);
  const middle = points.reduce((sum, { w, weight }) => sum + weight * w, 0) / weights;
  const mean = points.reduce((sum, { value, weight }) => sum + weight * value, 0) / weights;
  let [ww, wv, vv] = [0, 0, 0];
  for (const { w, value, weight } of points) {
    ww += weight * (w - middle) ** 2;
    wv += weight * (w - middle) * (value - mean);
    vv += weight * (value - mean) ** 2;
  }
  // A dark patch is none.
  return ww > 0 && wv > 0 ? vv - wv ** 2 / ww : vv;
}

function bump(r: number): number {
  return r < 1 ? (1 - r * r) ** 2 : 0;
}

/** The middles of the cells, and half way between each two of them that are neighbours. */
function listCentres(cells: readonly Cell[]): Point[] {
  const [first] = cells;
  const near = (1.2 * Math.max(...cells.map(({ at }) => Math.abs(at.x - first!.at.x)))) / (MAP_COLUMNS - 1);
  const centres = cells.map(({ at }) => at);
  cells.forEach(({ at: a }, i) => {
    for (const { at: b } of cells.slice(i + 1)) {
      if (Math.hypot(a.x - b.x, a.y - b.y) < near) centres.push({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
    }
  });
  return centres;
}
