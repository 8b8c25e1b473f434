/**
 * What the uncertainty of each term, and of the worst place, is made of.
 *
 * From the marks themselves (type A): their own independent errors, and what neighbours share or the model leaves open.
 * From what no photograph shows (type B): how far each mark is printed off, how far the right-eye picture is printed off
 * the left-eye picture, where the film stood in each of two exposures, what the filter's wedge does between them. Mark
 * errors go through the same linear fit as the places of the marks; shifts of the film enter the offsets whole, its turn
 * enters the rotation. All are carried with their covariance over the eight terms.
 *
 *   film, two exposures of n_L and n_R frames:  u^2 = u_jump^2 (1/n_L + 1/n_R),  weave: 2 u_weave^2
 *   film, one exposure of n frames: both pictures move alike, and two small things are left of it. Where they differ in size or turn,
 *   a shift s of the film changes the offset by (grad d) s; a turn phi about the middle of the frame moves pictures whose
 *   centres are S apart by phi S past each other, sideways. Jump and turn average over the frames here too.
 *
 * Fulfils "A budget for each figure" and "Priors where nothing tells". References: JCGM 100 (GUM); SMPTE RP 105-2003,
 * 2.2 and 2.3, for jump (fast, upright) and weave (slow, sideways); Mitchell, International Projectionist, August 1963,
 * and the figure of a hundredth of a millimetre for the whole chain, for the size of film motion.
 */
import {
  createMatrix,
  elementAt,
  type Matrix,
  multiply,
  propagateCovariance,
  transpose,
} from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import { type Contribution, combineBudget, type UncertaintyBudget } from '../kernel/uncertainty-budget.ts';
import { type BudgetPriors, type FilmMotion, type Prior, type SharedFilmMotion, viewPrior } from './budget-priors.ts';
import { estimateMovement, type Movement } from './estimate-movement.ts';
import type { JointFit } from './fit-joint-views.ts';
import type { MeasuredField } from './measure-field.ts';
import { TERMS, type Term } from './misalignment.ts';
import { propagateMovement } from './propagate-movement.ts';

export interface MisalignmentBudget {
  readonly terms: Readonly<Record<Term, UncertaintyBudget>>;
  readonly worstVertical: UncertaintyBudget;
  /** Covariance of the eight terms, combined, and of what another set of photographs throws anew. */
  readonly covariance: Matrix;
  readonly repeatCovariance: Matrix;
}

/** One source of uncertainty over the eight terms and the worst place. */
interface Component extends Omit<Contribution, 'u'> {
  /** 9 x 9. */
  readonly covariance: Matrix;
}

const ROWS = TERMS.length + 1;
const WORST = TERMS.length;

/**
 * Of one set of photographs; what repeats of it have scattered is put in the place of its lines afterwards.
 *
 * @example
 * const priors = defaultPriors(8.916, { left: framesOfExposure(0.25), right: framesOfExposure(0.25) });
 * const budget = budgetMisalignment(fit, measureField(fit), priors);
 * budget.terms.verticalOffset.lines[0].component; // what would shrink it most
 */
export function budgetMisalignment(fit: JointFit, field: MeasuredField, priors: BudgetPriors): MisalignmentBudget {
  const { jacobian } = field;
  const byMarks = multiply(jacobian, fit.response);
  const print = propagatePrint(fit, byMarks, priors.printMark);
  const all = propagateCovariance(jacobian, fit.covariance);
  const independent = propagateCovariance(jacobian, fit.repeatCovariance);
  const { noise, shared } = separate(all, independent, printedShare(fit, priors.printMark.u));
  const components: Component[] = [
    component('marks', 'A', noise, fit.redundancy, 'residuals', true),
    // Neighbours of one exposure err alike by the print, which stays; those of two by their filters as well.
    component('shared-errors', 'A', shared, fit.redundancy, 'residuals', priors.wedge !== undefined),
    component('print-marks', 'B', print, priors.printMark.degreesOfFreedom, priors.printMark.source, false),
    shiftComponent('print-eyes', priors.printEyes, 1, false),
  ];
  if (priors.movement) {
    const moved = movedComponent('movement', 'A', priors.movement, 'ghost', fit, field);
    components.push(moved);
    if (priors.film) addShift(moved.covariance, 'verticalOffset', smearOf(priors.film) ** 2);
    if (priors.film) components.push(...sharedFilmComponents(besideMovement(priors.film), field));
  }
  if (priors.film && !priors.movement) components.push(...filmComponents(priors.film, field.worstVertical.at.x));
  if (priors.sharedFilm) components.push(...sharedFilmComponents(priors.sharedFilm, field));
  if (priors.wedge && !priors.movement) components.push(...filterComponents(priors.wedge, fit, field));

  const budgetOf = (row: number, extra: readonly Contribution[]) =>
    combineBudget([
      ...components.map(({ covariance, ...rest }) => ({
        ...rest,
        u: Math.sqrt(Math.max(0, elementAt(covariance, row, row))),
      })),
      ...extra,
    ]);
  const rounding = (term: Term | 'worstVertical'): Contribution[] => {
    const half = priors.rounding?.[term];
    if (half === undefined) return [];
    const u = half / Math.sqrt(3);
    return [
      {
        component: 'rounding',
        type: 'B',
        u,
        degreesOfFreedom: Number.POSITIVE_INFINITY,
        source: 'display',
        repeats: true,
      },
    ];
  };
  // What the bias of a largest value adds at the worst place belongs to the marks.
  const added = Math.max(0, field.worstVertical.u ** 2 - elementAt(all, WORST, WORST));
  const bias: Contribution = {
    component: 'marks',
    type: 'A',
    u: Math.sqrt(added),
    degreesOfFreedom: fit.redundancy,
    source: 'largest-value',
    repeats: true,
  };
  return {
    terms: Object.fromEntries(TERMS.map((term, r) => [term, budgetOf(r, rounding(term))])) as Record<
      Term,
      UncertaintyBudget
    >,
    worstVertical: budgetOf(WORST, [...(added > 0 ? [bias] : []), ...rounding('worstVertical')]),
    covariance: sumOver(components),
    repeatCovariance: sumOver(components.filter(({ repeats }) => repeats)),
  };
}

function component(
  name: string,
  type: 'A' | 'B',
  covariance: Matrix,
  degrees: number | undefined,
  source: string,
  repeats: boolean,
): Component {
  return { component: name, type, covariance, degreesOfFreedom: degrees ?? Number.POSITIVE_INFINITY, source, repeats };
}

/** A shift of one picture against the other by `prior` in each direction, `times` over. */
function shiftComponent(name: string, prior: Prior, times: number, repeats: boolean): Component {
  const covariance = createMatrix(ROWS, ROWS);
  addShift(covariance, 'verticalOffset', (times * prior.u) ** 2);
  addShift(covariance, 'horizontalOffset', (times * prior.u) ** 2);
  return component(name, 'B', covariance, prior.degreesOfFreedom, prior.source, repeats);
}

/** A variance of one term, with what it does at the worst place. */
function addShift(covariance: Matrix, term: Term, variance: number, atWorst = term === 'verticalOffset' ? 1 : 0): void {
  const r = TERMS.indexOf(term);
  covariance.data[r * ROWS + r] += variance;
  covariance.data[r * ROWS + WORST] += atWorst * variance;
  covariance.data[WORST * ROWS + r] += atWorst * variance;
  covariance.data[WORST * ROWS + WORST] += atWorst ** 2 * variance;
}

function movedComponent(
  name: string,
  type: 'A' | 'B',
  movement: Movement,
  source: string,
  fit: JointFit,
  field: MeasuredField,
): Component {
  const covariance = propagateMovement(fit, field.chartFromCommon, movement, field.worstVertical.at);
  const degrees = type === 'A' ? Math.max(1, 2 * movement.marks - 4) : undefined;
  return component(name, type, covariance, degrees, source, true);
}

/**
 * Filters before two exposures that no ghost tells anything of. Their wedges shift the photograph, which over an oblique or
 * curved view is more than an offset. Their waves are what lies beyond the eight terms, or less: whatever bends the view so,
 * bends it within the terms too.
 */
function filterComponents(wedge: Prior, fit: JointFit, field: MeasuredField): Component[] {
  const shift = Math.SQRT2 * wedge.u;
  const nothing = [0, 0, 0] as const;
  const components: Component[] = [];
  if (shift > 0) {
    const shifted = estimateMovement([], { film: nothing, view: viewPrior(shift, shift, 0, 0) });
    components.push(movedComponent('filter-wedge', 'B', shifted, wedge.source, fit, field));
  }
  const { slope } = fit.marks[0];
  const waves_px = field.beyondTerms * Math.sqrt(Math.abs(slope[0] * slope[3] - slope[1] * slope[2]));
  if (waves_px > 0) {
    const waves = estimateMovement([], { film: nothing, view: [...nothing, ...nothing], waves_px });
    components.push(movedComponent('filter-waves', 'B', waves, 'residuals', fit, field));
  }
  return components;
}

function filmComponents({ jump, weave, turn, apart_ih, frames }: FilmMotion, worstX: number): Component[] {
  const averaged = 1 / frames.left + 1 / frames.right;
  const one = (name: string, prior: Prior, term: Term, variance: number, atWorst?: number) => {
    const covariance = createMatrix(ROWS, ROWS);
    addShift(covariance, term, variance, atWorst);
    return component(name, 'B', covariance, prior.degreesOfFreedom, prior.source, true);
  };
  const turned = one('film-turn', turn, 'rotation', averaged * turn.u ** 2, worstX);
  addShift(turned.covariance, 'horizontalOffset', averaged * ((apart_ih / 2) * turn.u) ** 2);
  return [
    one('film-jump', jump, 'verticalOffset', averaged * jump.u ** 2),
    one('film-weave', weave, 'horizontalOffset', 2 * weave.u ** 2),
    turned,
  ];
}

/**
 * Film that jumps within an exposure smears its marks upright, more to one side than to the other. The place of a strong
 * mark and that of a ghost follow the smear differently, by a small part of it: as found with rendered exposures. It is the
 * lopsidedness of the mean of n places that counts, as n^-1/2 for many frames, nothing for one or two, and most for five or
 * six: what is not known to be an exposure of more may be one of those.
 */
function smearOf({ jump, frames }: FilmMotion): number {
  const part = (n: number) => 1 / Math.max(MOST_LOPSIDED_FRAMES, n);
  return SMEAR_PART * Math.sqrt(part(frames.left) + part(frames.right)) * jump.u;
}

const SMEAR_PART = 0.04;
const MOST_LOPSIDED_FRAMES = 6;

/**
 * What a ghost cannot show of the film. A turn phi_i in exposure i moves the two pictures past each other by phi_i S; what
 * both photographs have of it alike, (phi_1 + phi_2) S / 2, moves no ghost against its picture. Where one ghost alone shows,
 * phi_2 S is left, which is as large as this or larger.
 */
function besideMovement({ jump, weave, turn, apart_ih, frames }: FilmMotion): SharedFilmMotion {
  const averaged = (1 / frames.left + 1 / frames.right) / 2;
  return { jump, weave, turn, apart_ih, frames: 1 / averaged };
}

const GRADIENT_STEP_IH = 0.05;

function sharedFilmComponents(
  { jump, weave, turn, apart_ih, frames }: SharedFilmMotion,
  { fieldAt }: MeasuredField,
): Component[] {
  const slope = (dx: number, dy: number): Point => {
    const [far, near] = [fieldAt({ x: dx, y: dy }), fieldAt({ x: -dx, y: -dy })];
    return { x: (far.x - near.x) / (2 * GRADIENT_STEP_IH), y: (far.y - near.y) / (2 * GRADIENT_STEP_IH) };
  };
  const [byX, byY] = [slope(GRADIENT_STEP_IH, 0), slope(0, GRADIENT_STEP_IH)];
  const scaled = createMatrix(ROWS, ROWS);
  addShift(scaled, 'verticalOffset', (byX.y * weave.u) ** 2 + (byY.y * jump.u) ** 2 / frames);
  addShift(scaled, 'horizontalOffset', (byX.x * weave.u) ** 2 + (byY.x * jump.u) ** 2 / frames);
  const turned = createMatrix(ROWS, ROWS);
  addShift(turned, 'horizontalOffset', (apart_ih * turn.u) ** 2 / frames);
  return [
    component('film-shift-scaled', 'B', scaled, jump.degreesOfFreedom, jump.source, true),
    component('film-turn', 'B', turned, turn.degreesOfFreedom, turn.source, true),
  ];
}

/** K C K^T with C the covariance of the marks' errors on the print, neighbours of one eye erring alike (Matern 3/2). */
function propagatePrint({ marks }: JointFit, byMarks: Matrix, { u, length_ih }: BudgetPriors['printMark']): Matrix {
  const n = marks.length;
  const byPrint = createMatrix(ROWS, 2 * n);
  marks.forEach(({ slope: [xx, xy, yx, yy] }, i) => {
    for (let r = 0; r < ROWS; r++) {
      const a = elementAt(byMarks, r, 2 * i);
      const b = elementAt(byMarks, r, 2 * i + 1);
      byPrint.data[2 * r * n + 2 * i] = a * xx + b * yx;
      byPrint.data[2 * r * n + 2 * i + 1] = a * xy + b * yy;
    }
  });
  const errors = createMatrix(2 * n, 2 * n);
  marks.forEach((a, i) => {
    marks.forEach((b, j) => {
      if (a.eye !== b.eye) return;
      const far = (Math.sqrt(3) * Math.hypot(a.at.x - b.at.x, a.at.y - b.at.y)) / length_ih;
      const covariance = u * u * (1 + far) * Math.exp(-far);
      errors.data[4 * i * n + 2 * j] = covariance;
      errors.data[2 * n * (2 * i + 1) + 2 * j + 1] = covariance;
    });
  });
  return multiply(multiply(byPrint, errors), transpose(byPrint));
}

/**
 * Part of the marks' scatter that the print explains: what of it exceeds what the marks claim, at most the print's own.
 * It stands in the print's line already.
 */
function printedShare({ marks, scatter, noise_px }: JointFit, u: number): number {
  const printed = marks.reduce(
    (sum, { slope: [a, b, c, d] }) => sum + (u * u * (a * a + b * b + c * c + d * d)) / 2,
    0,
  );
  const found = (scatter * noise_px) ** 2;
  const excess = Math.max(0, found - noise_px ** 2);
  return found > 0 ? Math.min(excess, printed / marks.length) / found : 0;
}

/** The marks' independent errors, less the print's share, and whatever the whole covariance holds beyond them. */
function separate(all: Matrix, independent: Matrix, printed: number): { noise: Matrix; shared: Matrix } {
  const noise = createMatrix(ROWS, ROWS);
  const shared = createMatrix(ROWS, ROWS);
  let within = 1;
  for (let r = 0; r < ROWS; r++) within = Math.min(within, elementAt(all, r, r) / elementAt(independent, r, r));
  for (let i = 0; i < all.data.length; i++) {
    const own = within * independent.data[i];
    noise.data[i] = own * (1 - printed);
    shared.data[i] = all.data[i] - own;
  }
  return { noise, shared };
}

function sumOver(components: readonly Component[]): Matrix {
  const sum = createMatrix(TERMS.length, TERMS.length);
  for (const { covariance } of components) {
    for (let r = 0; r < TERMS.length; r++) {
      for (let c = 0; c < TERMS.length; c++) sum.data[r * TERMS.length + c] += elementAt(covariance, r, c);
    }
  }
  return sum;
}
