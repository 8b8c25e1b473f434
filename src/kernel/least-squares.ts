/**
 * Non-linear least squares for small problems: Levenberg and Marquardt's method.
 *
 *   minimise  cost(p) = sum_i r_i(p)^2,    J_ij = dr_i / dp_j
 *   step d:   minimise |J d + r|^2 + lambda |D d|^2,    D_jj = the largest length that column j of J has had
 *
 * The residuals come already weighted, each divided by its standard uncertainty. With a robust loss the blocks of
 * residuals are reweighted before every step. Each step is found from an orthogonal reduction of J, not from J^T J.
 *
 * The fit ends for one of three reasons, none of which depends on the units of parameters or residuals:
 *   gradient  the part of r in the space of J's columns is 1e-10 of r or less: the parameters are within about that
 *             fraction of their standard uncertainty (the relative offset criterion of Bates and Watts);
 *   step      the whole Gauss-Newton step is 1e-12 of the parameters or less, both measured by |D .|;
 *   cost      the cost cannot be lowered by more than its own rounding, or the residuals vanish.
 * Anything else is a refusal, never a half-finished result.
 *
 * References: Marquardt, J. SIAM 11 (1963) 431; More, Lecture Notes in Mathematics 630 (1978) 105, for D; Madsen,
 * Nielsen and Tingleff, Methods for Non-linear Least Squares Problems (2nd ed. 2004), 3.2, for lambda; Bates and Watts,
 * Technometrics 23 (1981) 179.
 */
import { createMatrix, type Matrix } from './linear-algebra.ts';
import { type Refusal, refuse } from './refusal.ts';
import { decomposeSingularValues } from './svd.ts';
import { invertGram, solveUpperTriangular, type QrDecomposition, decomposeQr } from './qr.ts';

/**
 * Losses that keep outliers from ruling a fit. Both are scaled like a sum of squares: for a small length s of a block of
 * residuals the loss is s^2, so that a fit without outliers gives the same cost as plain least squares.
 *
 *   Huber:  s^2 up to k, beyond it 2 k s - k^2; weight min(1, k / s)
 *   Tukey:  (c^2 / 3) (1 - (1 - (s/c)^2)^3) up to c, beyond it c^2 / 3; weight (1 - (s/c)^2)^2, beyond c zero
 *
 * For residuals in units of their standard deviation, k = 1.345 and c = 4.685 keep 95 % of the efficiency of least
 * squares on one-dimensional normal data. Huber's loss has one minimum; Tukey's needs a good start.
 *
 * References: Huber, Ann. Math. Stat. 35 (1964) 73; Beaton and Tukey, Technometrics 16 (1974) 147; Holland and Welsch,
 * Communications in Statistics A6 (1977) 813, for the two constants.
 */
export interface RobustLoss {
  readonly kind: 'huber' | 'tukey';
  /** k or c, in the unit of the residuals. */
  readonly threshold: number;
  /** Residuals that stand or fall together: 2 for the x and y of one point. They follow one another. */
  readonly blockSize: number;
}

/**
 * The loss and its weight, d loss / d(s^2), of a block whose residuals have the sum of squares s^2.
 *
 * @example
 * evaluateLoss({ kind: 'huber', threshold: 1.345, blockSize: 1 }, 9).weight; // 0.448
 */
export function evaluateLoss(loss: RobustLoss, squared: number): { readonly cost: number; readonly weight: number } {
  const limit = loss.threshold ** 2;
  if (loss.kind === 'huber') {
    if (squared <= limit) return { cost: squared, weight: 1 };
    const length = Math.sqrt(squared);
    return { cost: 2 * loss.threshold * length - limit, weight: loss.threshold / length };
  }
  if (squared >= limit) return { cost: limit / 3, weight: 0 };
  const inside = 1 - squared / limit;
  return { cost: (limit / 3) * (1 - inside ** 3), weight: inside ** 2 };
}

export interface LeastSquaresProblem {
  readonly start: ArrayLike<number>;
  readonly residualCount: number;
  /** Writes the weighted residuals at `parameters` into `residuals`. */
  writeResiduals(parameters: Float64Array, residuals: Float64Array): void;
  /** Writes their derivatives, residualCount x parameters, into `jacobian.data`. Without it: central differences. */
  writeJacobian?(parameters: Float64Array, jacobian: Matrix): void;
  /** The size of a meaningful change of each parameter, for differences at a parameter that is zero. Otherwise 1. */
  readonly typicalSize?: ArrayLike<number>;
  readonly loss?: RobustLoss;
  /** Steps tried before the fit is given up; 200 unless given. */
  readonly maximumIterations?: number;
  /** The `gradient` criterion, as a fraction of r; 1e-10 unless given. A fit that only starts another may stop earlier. */
  readonly relativeOffset?: number;
  /** Root mean square of the residuals at which they count as vanished; 1e-14 unless given. */
  readonly vanishing?: number;
}

export interface LeastSquaresEstimate {
  readonly outcome: 'estimated';
  readonly parameters: Float64Array;
  /**
   * (J^T J)^-1 with the loss's weights: the covariance of the parameters if the residuals came in units of their
   * standard uncertainty. Multiply by `residualVariance` where they did not.
   */
  readonly covariance: Matrix;
  /** Weighted sum of squares over redundancy; `undefined` for redundancy 0. */
  readonly residualVariance: number | undefined;
  /** As the problem wrote them, without the loss's weights. */
  readonly residuals: Float64Array;
  /** The loss's weight for each residual, 0 to 1; all 1 without a loss. */
  readonly weights: Float64Array;
  /** Sum of squares, or of the loss. */
  readonly cost: number;
  readonly iterations: number;
  /** Residuals with a weight above zero, minus parameters. */
  readonly redundancy: number;
  readonly termination: 'gradient' | 'step' | 'cost';
}

export type LeastSquaresRefusal = Refusal<'not-converged' | 'rank-deficient' | 'not-finite' | 'too-few-observations'>;

const RELATIVE_OFFSET = 1e-10;
const RELATIVE_STEP = 1e-12;

/**
 * @example
 * const fit = fitLeastSquares({
 *   start: [1, 0],
 *   residualCount: times.length,
 *   writeResiduals: ([a, b], out) => times.forEach((t, i) => (out[i] = a * Math.exp(b * t) - values[i])),
 * });
 * if (fit.outcome === 'estimated') fit.parameters;
 */
export function fitLeastSquares(problem: LeastSquaresProblem): LeastSquaresEstimate | LeastSquaresRefusal {
  const parameterCount = problem.start.length;
  const { residualCount } = problem;
  const tooFew = (observations: number) => refuse('too-few-observations', { observations, parameters: parameterCount });
  if (residualCount < parameterCount || parameterCount === 0) return tooFew(residualCount);

  const maximumIterations = problem.maximumIterations ?? 200;
  const vanishingCost = residualCount * (problem.vanishing ?? 1e-14) ** 2;
  const scale = new Float64Array(parameterCount);
  let current = evaluate(problem, Float64Array.from(problem.start));
  if (!current) return refuse('not-finite', { at: 'start' });
  let linear = linearise(problem, current, scale);
  if (!linear) return refuse('not-finite', { at: 'derivatives' });

  let damping = 1;
  let growth = 2;
  for (let iterations = 0; ; iterations++) {
    const termination = findTermination(linear, current, vanishingCost, problem.relativeOffset ?? RELATIVE_OFFSET);
    if (termination) return conclude(current, linear, iterations, termination, tooFew);
    if (iterations === maximumIterations) return giveUp(linear, current, iterations);

    // What even the whole Gauss-Newton step promises is lost in the rounding of the cost. The cost can no longer tell
    // better from worse, but q still can: steps go on as long as they shrink it.
    const finish = sumOfSquares(linear.qr.q) <= roundingOfCost(current, linear) ? linear.gaussNewton : undefined;
    const step = finish ?? solveDamped(linear, scale, damping);
    const trial = evaluate(
      problem,
      Float64Array.from(current.parameters, (p, j) => p + step[j]),
    );
    if (finish) {
      const next = trial && linearise(problem, trial, scale);
      if (!next || sumOfSquares(next.qr.q) > 0.9 * sumOfSquares(linear.qr.q)) {
        return conclude(current, linear, iterations, 'cost', tooFew);
      }
      current = trial;
      linear = next;
    } else if (trial && trial.cost < current.cost) {
      const gain = Math.min((current.cost - trial.cost) / predictDecrease(linear, step), 1);
      damping *= Math.max(0.1, 1 - (2 * gain - 1) ** 3);
      growth = 2;
      current = trial;
      linear = linearise(problem, current, scale);
      if (!linear) return refuse('not-finite', { at: 'derivatives' });
    } else {
      damping *= growth;
      growth *= 2;
      if (!Number.isFinite(damping)) return giveUp(linear, current, iterations);
    }
  }
}

/**
 * A bound for the rounding of the cost: residuals that change by |D p| when the parameters double are not exact to better
 * than a few rounding units of that.
 */
function roundingOfCost({ parameters, cost }: State, { lengths }: Linearised): number {
  const reach = Math.sqrt(scaledSquares(parameters, lengths));
  return 8 * Number.EPSILON * Math.sqrt(cost) * (Math.sqrt(cost) + reach);
}

interface State {
  readonly parameters: Float64Array;
  readonly residuals: Float64Array;
  readonly weights: Float64Array;
  readonly cost: number;
}

interface Linearised {
  /** Of the weighted Jacobian against minus the weighted residuals: q is the gain that is left, R d = q the step. */
  readonly qr: QrDecomposition;
  /** Of the columns of the weighted Jacobian. */
  readonly lengths: Float64Array;
  /** The undamped step; `undefined` where J has not full rank. */
  readonly gaussNewton: Float64Array | undefined;
}

/** `undefined` where a residual is not finite. */
function evaluate(problem: LeastSquaresProblem, parameters: Float64Array): State | undefined {
  const { residualCount, loss } = problem;
  const residuals = new Float64Array(residualCount);
  problem.writeResiduals(parameters, residuals);
  const weights = new Float64Array(residualCount).fill(1);
  if (!loss) {
    const cost = sumOfSquares(residuals);
    return Number.isFinite(cost) ? { parameters, residuals, weights, cost } : undefined;
  }
  if (!(loss.blockSize >= 1) || residualCount % loss.blockSize !== 0 || !(loss.threshold > 0)) {
    throw new RangeError(`${residualCount} residuals in blocks of ${loss.blockSize}, threshold ${loss.threshold}`);
  }
  let cost = 0;
  for (let first = 0; first < residualCount; first += loss.blockSize) {
    const block = sumOfSquares(residuals.subarray(first, first + loss.blockSize));
    if (!Number.isFinite(block)) return undefined;
    const share = evaluateLoss(loss, block);
    cost += share.cost;
    weights.fill(share.weight, first, first + loss.blockSize);
  }
  return { parameters, residuals, weights, cost };
}

/** Derivatives at a state; raises `scale` to the column lengths. `undefined` where a derivative is not finite. */
function linearise(problem: LeastSquaresProblem, state: State, scale: Float64Array): Linearised | undefined {
  const n = state.parameters.length;
  const jacobian = createMatrix(problem.residualCount, n);
  if (problem.writeJacobian) problem.writeJacobian(state.parameters, jacobian);
  else writeDifferences(problem, state.parameters, jacobian);

  const right = new Float64Array(problem.residualCount);
  const lengths = new Float64Array(n);
  for (let i = 0; i < right.length; i++) {
    const root = Math.sqrt(state.weights[i]);
    right[i] = -root * state.residuals[i];
    for (let j = 0; j < n; j++) {
      const element = root * jacobian.data[i * n + j];
      jacobian.data[i * n + j] = element;
      lengths[j] += element * element;
    }
  }
  if (!lengths.every(Number.isFinite)) return undefined;
  for (let j = 0; j < n; j++) {
    lengths[j] = Math.sqrt(lengths[j]);
    scale[j] = Math.max(scale[j], lengths[j]);
  }
  const qr = decomposeQr(jacobian, right);
  return { qr, lengths, gaussNewton: solveFullRank(qr, lengths) };
}

/** The undamped step, unless a column of J keeps nothing but rounding beside the columns before it. */
function solveFullRank({ r, q }: QrDecomposition, lengths: Float64Array): Float64Array | undefined {
  const n = q.length;
  for (let j = 0; j < n; j++) if (Math.abs(r.data[j * n + j]) * LARGEST_CONDITION <= lengths[j]) return undefined;
  return solveUpperTriangular(r, q);
}

/** Central differences with a relative step of the cube root of the rounding unit. */
function writeDifferences(problem: LeastSquaresProblem, at: Float64Array, jacobian: Matrix): void {
  const n = at.length;
  const above = new Float64Array(problem.residualCount);
  const below = new Float64Array(problem.residualCount);
  const parameters = Float64Array.from(at);
  for (let j = 0; j < n; j++) {
    const size = Math.abs(at[j]) || problem.typicalSize?.[j] || 1;
    const high = at[j] + Math.cbrt(Number.EPSILON) * size;
    const low = at[j] - Math.cbrt(Number.EPSILON) * size;
    parameters[j] = high;
    problem.writeResiduals(parameters, above);
    parameters[j] = low;
    problem.writeResiduals(parameters, below);
    parameters[j] = at[j];
    for (let i = 0; i < above.length; i++) jacobian.data[i * n + j] = (above[i] - below[i]) / (high - low);
  }
}

function findTermination(
  { qr, gaussNewton, lengths }: Linearised,
  { parameters, cost }: State,
  vanishingCost: number,
  relativeOffset: number,
): LeastSquaresEstimate['termination'] | undefined {
  if (cost <= vanishingCost) return 'cost';
  const removable = sumOfSquares(qr.q);
  if (removable <= relativeOffset ** 2 * (removable + qr.rest)) return 'gradient';
  if (!gaussNewton) return undefined;
  const isSmall = scaledSquares(gaussNewton, lengths) <= RELATIVE_STEP ** 2 * scaledSquares(parameters, lengths);
  return isSmall ? 'step' : undefined;
}

function scaledSquares(v: Float64Array, scale: Float64Array): number {
  return sumOfSquares(v.map((x, j) => x * scale[j]));
}

/** The step d that minimises |R d - q|^2 + damping |D d|^2. */
function solveDamped({ qr }: Linearised, scale: Float64Array, damping: number): Float64Array {
  const n = scale.length;
  const stacked = createMatrix(2 * n, n);
  stacked.data.set(qr.r.data);
  for (let j = 0; j < n; j++) stacked.data[(n + j) * n + j] = Math.sqrt(damping) * (scale[j] || 1);
  const right = new Float64Array(2 * n);
  right.set(qr.q);
  const damped = decomposeQr(stacked, right);
  // Full rank by the damping; only an underflow could make a pivot zero, and then the step is none.
  return solveUpperTriangular(damped.r, damped.q) ?? new Float64Array(n);
}

/** |q|^2 - |R d - q|^2: by how much the linearised problem says that the step lowers the cost. */
function predictDecrease({ qr }: Linearised, step: Float64Array): number {
  const n = step.length;
  let left = 0;
  for (let i = 0; i < n; i++) {
    let sum = -qr.q[i];
    for (let c = i; c < n; c++) sum += qr.r.data[i * n + c] * step[c];
    left += sum * sum;
  }
  return sumOfSquares(qr.q) - left;
}

function conclude(
  state: State,
  { qr }: Linearised,
  iterations: number,
  termination: LeastSquaresEstimate['termination'],
  tooFew: (observations: number) => LeastSquaresRefusal,
): LeastSquaresEstimate | LeastSquaresRefusal {
  const counted = state.weights.reduce((count, weight) => count + (weight > 0 ? 1 : 0), 0);
  const redundancy = counted - state.parameters.length;
  if (redundancy < 0) return tooFew(counted);
  const condition = scaledCondition(qr.r);
  const covariance = condition < LARGEST_CONDITION ? invertGram(qr.r) : undefined;
  if (!covariance) return refuse('rank-deficient', { condition });
  const squares = state.residuals.reduce((sum, r, i) => sum + state.weights[i] * r * r, 0);
  return {
    outcome: 'estimated',
    parameters: state.parameters,
    covariance,
    residualVariance: redundancy > 0 ? squares / redundancy : undefined,
    residuals: state.residuals,
    weights: state.weights,
    cost: state.cost,
    iterations,
    redundancy,
    termination,
  };
}

/** Beyond it the columns of J, brought to equal length, differ by no more than rounding in some direction. */
const LARGEST_CONDITION = 1e13;

/** The condition number of R after its columns are brought to length 1; the largest number there is where one is zero. */
function scaledCondition(r: Matrix): number {
  const n = r.cols;
  const scaled = createMatrix(n, n);
  for (let c = 0; c < n; c++) {
    let squared = 0;
    for (let i = 0; i <= c; i++) squared += r.data[i * n + c] ** 2;
    if (squared === 0) return Number.MAX_VALUE;
    for (let i = 0; i <= c; i++) scaled.data[i * n + c] = r.data[i * n + c] / Math.sqrt(squared);
  }
  const { values } = decomposeSingularValues(scaled);
  return Math.min(values[0] / values[n - 1], Number.MAX_VALUE);
}

function giveUp({ qr }: Linearised, { cost }: State, iterations: number): LeastSquaresRefusal {
  const condition = scaledCondition(qr.r);
  if (condition >= LARGEST_CONDITION) return refuse('rank-deficient', { condition });
  const removable = sumOfSquares(qr.q);
  return refuse('not-converged', {
    iterations,
    cost,
    relative_offset: Math.sqrt(removable / (removable + qr.rest)),
    condition,
  });
}

function sumOfSquares(v: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < v.length; i++) sum += v[i] * v[i];
  return sum;
}
