/**
 * Photographs that were repeated: one value from all of them, with what they scatter. Their own uncertainties and their
 * scatter are compared, and the larger counts; a drift is taken out where the order lets it; one that lies apart is left
 * out and named.
 */
import { combineRepeats, type CombinedRepeats, type Repeat } from '../../geometry/combine-repeats.ts';
import type { MeasuredField } from '../../geometry/measure-field.ts';
import { fieldOfTerms, TERMS, type TermVector } from '../../geometry/misalignment.ts';
import type { MisalignmentBudget } from '../../geometry/misalignment-budget.ts';
import { pictureGrid } from '../../geometry/rectify-mean.ts';
import type { Eye } from '../../kernel/eye.ts';
import { createMatrix, elementAt, type Matrix, quadraticForm } from '../../kernel/linear-algebra.ts';
import type { Measured } from '../../kernel/measured.ts';
import { type Contribution, combineBudget, type UncertaintyBudget } from '../../kernel/uncertainty-budget.ts';
import type { PhotographRole } from '../../record/roles.ts';
import type { ExaminedPhotograph } from '../shot/examine-shot.ts';

/** A photograph and the picture that is taken from it. */
export interface ShownPicture {
  readonly photograph: ExaminedPhotograph;
  readonly eye: Eye;
}

export interface Outlier {
  readonly role: PhotographRole;
  /** Among the photographs of its role, from 1. */
  readonly number: number;
  readonly file: string;
  readonly chance: number;
}

export interface Repeated {
  /** Index of the photograph that stands for all. */
  readonly representative: number;
  readonly outlier: Outlier | undefined;
  /** Whether the scatter of the repeats holds what moves between exposures. */
  readonly isScatterKnown: boolean;
  readonly combine: (
    field: MeasuredField,
    budget: MisalignmentBudget,
  ) => { field: MeasuredField; budget: MisalignmentBudget };
}

const ALONE: Repeated = {
  representative: 0,
  outlier: undefined,
  isScatterKnown: false,
  combine: (field, budget) => ({ field, budget }),
};

/** What one photograph of both pictures says, and how well it says so. */
export interface BareFigures {
  readonly field: MeasuredField;
  readonly budget: MisalignmentBudget;
}

/**
 * Several photographs, each with both pictures; in the order in which they were taken. What the film does within each of
 * them (it turns in the gate) counts: two of three that show it alike by chance make no outlier of the third.
 */
export function repeatBare(
  figures: readonly BareFigures[],
  photographs: readonly ExaminedPhotograph[],
  aspect: number,
): Repeated {
  if (figures.length < 2) return ALONE;
  const repeats = figures.map((one, time) => ({ time, values: valuesOf(one) }));
  const combined = combineRepeats(repeats);
  if (combined.outcome === 'refused') return ALONE;
  const representative = nearest(repeats, combined);
  const shown = photographs.map((photograph) => ({ photograph, eye: 'left' as const }));
  return { ...fromCombined(combined, shown, aspect), representative };
}

/** The one whose terms lie closest to the combined ones, in units of their uncertainty. */
function nearest(repeats: readonly Repeat[], { quantities, used }: CombinedRepeats): number {
  const distance = (index: number) =>
    quantities.reduce((sum, { value }, q) => {
      const own = repeats[index]!.values[q]!;
      return sum + ((own.value - value) / own.u) ** 2;
    }, 0);
  return used.reduce((best, index) => (distance(index) < distance(best) ? index : best), used[0]!);
}

/** Fits of a pair of photographs: terms right minus left. */
type FitPair = (pair: readonly [ShownPicture, ShownPicture]) => MeasuredField | undefined;

/**
 * Photographs through the lenses, in the order in which they were taken. Each is placed against the first ones of the
 * other eye: p_R(j) = d(L_1, R_j), p_L(i) = d(L_1, R_1) - d(L_i, R_1), so that p_R - p_L is what is looked for.
 */
export function repeatLenses(
  shown: readonly ShownPicture[],
  [first, second]: readonly [ShownPicture, ShownPicture],
  aspect: number,
  fit: FitPair,
): Repeated {
  const taken = shown.filter(({ photograph: { role } }) => role === 'left-lens' || role === 'right-lens');
  if (taken.length < 3 || first.eye === second.eye) return ALONE;
  const bare = fit([first, second]);
  if (!bare) return ALONE;
  const repeats: Repeat[] = [];
  const placed: ShownPicture[] = [];
  taken.forEach((picture, time) => {
    const { eye } = picture;
    const place =
      eye === first.eye ? placeAgainst(bare, fit([picture, second]), -1) : placeAgainst(bare, fit([first, picture]), 1);
    if (!place) return;
    repeats.push({ time, eye, values: place });
    placed.push(picture);
  });
  const combined = combineRepeats(repeats);
  if (combined.outcome === 'refused') return ALONE;
  return {
    ...fromCombined(combined, placed, aspect),
    isScatterKnown: combined.quantities.every(({ external }) => external !== undefined),
  };

  function placeAgainst(
    reference: MeasuredField,
    other: MeasuredField | undefined,
    sign: 1 | -1,
  ): Measured[] | undefined {
    return (
      other &&
      TERMS.map((term) => {
        const [was, is] = [reference.terms[term], other.terms[term]];
        const value = sign === 1 ? is.value : was.value - is.value;
        // Each photograph's marks are half of a pair's.
        return { value: first.eye === 'left' ? value : -value, u: is.uRepeat / Math.SQRT2 };
      })
    );
  }
}

function valuesOf({ field, budget }: BareFigures): Measured[] {
  return TERMS.map((term) => ({ value: field.terms[term].value, u: budget.terms[term].uRepeat }));
}

function fromCombined(combined: CombinedRepeats, shown: readonly ShownPicture[], aspect: number): Repeated {
  return {
    representative: 0,
    outlier: nameOutlier(combined, shown),
    isScatterKnown: true,
    combine: (field, budget) => applyCombined(field, budget, combined, aspect),
  };
}

function nameOutlier({ outlier }: CombinedRepeats, shown: readonly ShownPicture[]): Outlier | undefined {
  const picture = outlier && shown[outlier.index];
  if (!picture) return undefined;
  const { role, photo } = picture.photograph;
  const before = shown.slice(0, outlier.index).filter(({ photograph }) => photograph.role === role);
  return { role, number: before.length + 1, file: photo.file, chance: outlier.chance };
}

const REPLACED = new Set(['marks', 'film-jump', 'film-weave', 'film-turn', 'film-shift-scaled', 'movement']);

/** The combined values in the place of one photograph's, and their scatter in the place of what it claimed. */
function applyCombined(
  field: MeasuredField,
  budget: MisalignmentBudget,
  { quantities }: CombinedRepeats,
  aspect: number,
): { field: MeasuredField; budget: MisalignmentBudget } {
  const change = Object.fromEntries(
    TERMS.map((term, q) => [term, quantities[q]!.value - field.terms[term].value]),
  ) as unknown as TermVector;
  // The terms are correlated as they were; only how much they scatter is known better.
  const ratios = TERMS.map((_, q) => {
    const variance = elementAt(budget.repeatCovariance, q, q);
    return variance > 0 ? quantities[q]!.u / Math.sqrt(variance) : 1;
  });
  const terms = Object.fromEntries(
    TERMS.map((term, q) => [term, replaceLines(budget.terms[term], quantities[q]!)]),
  ) as unknown as MisalignmentBudget['terms'];
  const repeatCovariance = scaled(budget.repeatCovariance, ratios);
  const covariance = createMatrix(TERMS.length, TERMS.length);
  covariance.data.forEach((_, i) => {
    covariance.data[i] = budget.covariance.data[i]! - budget.repeatCovariance.data[i]! + repeatCovariance.data[i]!;
  });
  const fieldAt: MeasuredField['fieldAt'] = (at) => {
    const [d, c] = [field.fieldAt(at), fieldOfTerms(change, at)];
    return { x: d.x + c.x, y: d.y + c.y };
  };
  // The worst place holds what goes beyond the terms, which is that of one photograph: repeats make it no better known, and
  // where they scatter more than one claims, that counts.
  const slope = TERMS.map((_, q) => fieldOfTerms(unitOf(q), field.worstVertical.at).y);
  const worstRepeat = Math.max(field.worstVertical.uRepeat, Math.sqrt(quadraticForm(repeatCovariance, slope)));
  const worst = { u: worstRepeat, degreesOfFreedom: quantities[0]!.degreesOfFreedom };
  const worstBudget = replaceLines(budget.worstVertical, worst);
  return {
    field: {
      ...field,
      fieldAt,
      terms: Object.fromEntries(
        TERMS.map((term, q) => [term, { value: quantities[q]!.value, u: terms[term].u, uRepeat: quantities[q]!.u }]),
      ) as unknown as MeasuredField['terms'],
      worstVertical: { ...largestVertical(aspect, fieldAt), u: worstBudget.u, uRepeat: worstRepeat },
    },
    budget: { terms, worstVertical: worstBudget, covariance, repeatCovariance },
  };
}

function replaceLines(
  budget: UncertaintyBudget,
  { u, degreesOfFreedom }: Pick<CombinedRepeats['quantities'][number], 'u' | 'degreesOfFreedom'>,
): UncertaintyBudget {
  const kept: Contribution[] = budget.lines.filter(({ component }) => !REPLACED.has(component));
  return combineBudget([
    ...kept,
    { component: 'repeats', type: 'A', u, degreesOfFreedom, source: 'repeats', repeats: true },
  ]);
}

function unitOf(q: number): TermVector {
  return Object.fromEntries(TERMS.map((term, k) => [term, k === q ? 1 : 0])) as unknown as TermVector;
}

function scaled(matrix: Matrix, by: readonly number[]): Matrix {
  const out = createMatrix(matrix.rows, matrix.cols);
  for (let r = 0; r < matrix.rows; r++)
    for (let c = 0; c < matrix.cols; c++) out.data[r * matrix.cols + c] = by[r]! * by[c]! * elementAt(matrix, r, c);
  return out;
}

function largestVertical(aspect: number, fieldAt: MeasuredField['fieldAt']) {
  let worst = { value: 0, at: { x: 0, y: 0 } };
  for (const at of pictureGrid(aspect)) {
    const value = Math.abs(fieldAt(at).y);
    if (value > worst.value) worst = { value, at };
  }
  return worst;
}
