/**
 * Whether the camera (or the film in the gate) kept still between two photographs.
 *
 * A picture that shows in both photographs, once strongly and once as a leak, must show in the same place. The
 * displacements are fitted with a similarity,
 *
 *   delta(p) = t + s (p - p0) + r J (p - p0),    J = [[0, -1], [1, 0]]
 *
 * a shift of the camera or film, a zoom or a step forward (s), a turn about the line of sight (r).
 *
 * Pictures that are means of frames of weaving film stand apart even where nothing moved: each mean is only as good as
 * the weave over the square root of its frames. What is known of that, as a standard uncertainty w of the shift, tells
 * a movement from the weave: the same fit is judged once with its own covariance C, once with C + diag(w_x^2, w_y^2, 0, 0).
 */
import { choleskySolve, createMatrix, invertSymmetric } from '../kernel/linear-algebra.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Point } from '../kernel/point.ts';
import { chiSquaredUpperTail } from '../kernel/statistics.ts';

/** A mark's displacement from the first photograph to the second, photo px. */
export interface Displacement {
  readonly at: Point;
  readonly shift: Point;
  /** Standard uncertainty in x and y. */
  readonly u: Point;
}

/** A shift of a view with its growth and turn about a place, and how far from there it was seen. */
export interface Similarity {
  /** Displacement of the centre, px. */
  readonly shift_px: Point;
  readonly centre: Point;
  readonly growth: number;
  /** As J turns, radians. */
  readonly turn: number;
  readonly reach_px: number;
}

export interface Steadiness {
  /** Displacement of the marks' centre, px. */
  readonly shift_px: Point;
  /** How much larger the second photograph shows everything: film cannot do that. */
  readonly size: Measured;
  /** Largest displacement over the marks' extent, px, with its standard uncertainty. */
  readonly movement_px: Measured;
  /** Probability of a displacement this significant if nothing moved. */
  readonly chance: number;
  /** The same if nothing but the film's weave moved. */
  readonly chanceOfWeave: number;
}

/** With the whole of what moved. */
export interface FollowedSteadiness extends Steadiness {
  readonly moved: Similarity;
}

/** Below this chance a movement is certain. */
export const CERTAIN_CHANCE = 1e-6;

const SIZE = 4;

/**
 * `undefined` for fewer than three displacements. `weave_px`: standard uncertainty of the shift by the film's weave.
 *
 * @example
 * const steadiness = checkSteadiness(displacements);
 * if (steadiness && steadiness.chance < CERTAIN_CHANCE) steadiness.movement_px;
 */
export function checkSteadiness(
  displacements: readonly Displacement[],
  weave_px: Point = { x: 0, y: 0 },
): FollowedSteadiness | undefined {
  if (displacements.length < 3) return undefined;
  const n = displacements.length;
  const centre = {
    x: displacements.reduce((sum, d) => sum + d.at.x, 0) / n,
    y: displacements.reduce((sum, d) => sum + d.at.y, 0) / n,
  };
  const reach = Math.max(...displacements.map(({ at }) => Math.hypot(at.x - centre.x, at.y - centre.y)));
  const rows = displacements.map(({ at, shift, u }) => {
    const x = (at.x - centre.x) / reach;
    const y = (at.y - centre.y) / reach;
    return [
      { basis: [1, 0, x, -y], value: shift.x, u: u.x },
      { basis: [0, 1, y, x], value: shift.y, u: u.y },
    ];
  });
  const normal = createMatrix(SIZE, SIZE);
  const right = new Float64Array(SIZE);
  for (const { basis, value, u } of rows.flat()) {
    for (let r = 0; r < SIZE; r++) {
      right[r] += (basis[r] * value) / (u * u);
      for (let c = 0; c < SIZE; c++) normal.data[r * SIZE + c] += (basis[r] * basis[c]) / (u * u);
    }
  }
  const solution = choleskySolve(normal, right);
  const inverse = invertSymmetric(normal);
  if (!solution || !inverse) return undefined;
  let residual = 0;
  for (const { basis, value, u } of rows.flat()) {
    const predicted = basis.reduce((sum, b, i) => sum + b * solution[i], 0);
    residual += ((value - predicted) / u) ** 2;
  }
  // Where the displacements scatter more than they say, so does their fit.
  const excess = Math.max(1, residual / Math.max(1, 2 * n - SIZE));
  const explained = solution.reduce((sum, v, i) => sum + v * right[i], 0) / excess;
  const shift = Math.hypot(solution[0], solution[1]);
  const spread = Math.hypot(solution[2], solution[3]);
  const u = Math.sqrt(
    excess * (inverse.data[0] + inverse.data[SIZE + 1] + inverse.data[2 * SIZE + 2] + inverse.data[3 * SIZE + 3]),
  );
  const withWeave = createMatrix(SIZE, SIZE);
  inverse.data.forEach((v, i) => {
    withWeave.data[i] = excess * v;
  });
  withWeave.data[0] += weave_px.x ** 2;
  withWeave.data[SIZE + 1] += weave_px.y ** 2;
  const solved = choleskySolve(withWeave, Float64Array.from(solution));
  const explainedWithWeave = solved ? solution.reduce((sum, v, i) => sum + v * solved[i], 0) : explained;
  return {
    shift_px: { x: solution[0], y: solution[1] },
    moved: {
      shift_px: { x: solution[0], y: solution[1] },
      centre,
      growth: solution[2] / reach,
      turn: solution[3] / reach,
      reach_px: reach,
    },
    size: { value: solution[2] / reach, u: Math.sqrt(excess * inverse.data[2 * SIZE + 2]) / reach },
    movement_px: { value: shift + spread, u },
    chance: chiSquaredUpperTail(explained, SIZE),
    chanceOfWeave: chiSquaredUpperTail(Math.min(explained, explainedWithWeave), SIZE),
  };
}
