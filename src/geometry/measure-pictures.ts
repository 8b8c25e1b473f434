/**
 * From the marks of both pictures to everything that is said of how they lie on each other: one call for one photograph
 * that shows both, for a pair, and for several of either.
 *
 *   marks -> joint fit -> field, terms, worst place, remainder -> budget
 *
 * Several photographs of the same kind are combined: the values are those of `combineRepeats`, the larger of internal and
 * external scatter counts, and a photograph that lies apart is named. What every photograph shares (print, lens) is
 * counted once.
 */
import { type CombinedRepeats, combineRepeats } from './combine-repeats.ts';
import type { Movement } from './estimate-movement.ts';
import { fitJointViews, type JointFit, type JointRefusal } from './fit-joint-views.ts';
import type { PhotoSize, SeenMark } from './fit-views.ts';
import { type MeasuredField, measureField } from './measure-field.ts';
import { TERMS } from './misalignment.ts';
import type { BudgetPriors } from './budget-priors.ts';
import { budgetMisalignment, type MisalignmentBudget } from './misalignment-budget.ts';

/** The marks of one bare photograph, or of a pair through the two lenses. */
export interface PictureMarks {
  readonly marks: readonly SeenMark[];
  readonly size: PhotoSize;
  /** In the order in which they were taken, any unit. */
  readonly time: number;
  /** What a ghost told of a movement between the photographs of a pair, and was taken out of the marks. */
  readonly movement?: Movement | undefined;
}

export interface MeasuredPictures {
  readonly outcome: 'estimated';
  /** One for each set of marks, in the order given. */
  readonly single: readonly { readonly fit: JointFit; readonly field: MeasuredField }[];
  /** Values of the eight terms in the order of `TERMS`, then of the worst place; ih, radians, fractions. */
  readonly values: readonly number[];
  /** Their uncertainties, everything counted. */
  readonly budget: MisalignmentBudget;
  /** `undefined` for a single set. */
  readonly repeats: CombinedRepeats | undefined;
}

/**
 * Refuses as the joint fit does, `facts.set` naming which of several sets it was.
 *
 * @param sets at least one.
 * @param aspect width over height of the picture area.
 * @param priors `defaultPriors` with what the house knows better; `movement` is taken from the sets.
 * @example
 * const result = measurePictures([{ marks, size, time: 0 }], 2.35, defaultPriors(8.916, 'one'));
 * if (result.outcome === 'estimated') result.budget.terms.verticalOffset.expanded;
 */
export function measurePictures(
  sets: readonly PictureMarks[],
  aspect: number,
  priors: BudgetPriors,
): MeasuredPictures | JointRefusal {
  if (sets.length === 0) throw new RangeError('no marks to measure');
  const single: { fit: JointFit; field: MeasuredField }[] = [];
  for (const [set, { marks, size }] of sets.entries()) {
    const fit = fitJointViews(marks, size, aspect);
    if (fit.outcome === 'refused') return { ...fit, facts: { ...fit.facts, set } };
    single.push({ fit, field: measureField(fit) });
  }
  const budgetWith = (index: number, repeats?: CombinedRepeats) =>
    budgetMisalignment(
      single[index].fit,
      single[index].field,
      { ...priors, movement: sets[index].movement },
      repeats?.quantities,
    );
  if (single.length === 1) {
    return {
      outcome: 'estimated',
      single,
      values: quantitiesOf(single[0].field).map((q) => q.value),
      budget: budgetWith(0),
      repeats: undefined,
    };
  }
  // Of a pair, what film did between its photographs is no part of what its marks say: the scatter shows it, or the prior does.
  const repeats = combineRepeats(
    single.map(({ field }, index) => {
      const { terms, worstVertical } = budgetWith(index);
      const us = [...TERMS.map((term) => terms[term].uRepeat), worstVertical.uRepeat];
      return { time: sets[index].time, values: quantitiesOf(field).map(({ value }, k) => ({ value, u: us[k] })) };
    }),
    false,
  );
  if (repeats.outcome === 'refused') throw new RangeError(`repeats of ${sets.length}: ${repeats.code}`);
  return {
    outcome: 'estimated',
    single,
    values: repeats.quantities.map(({ value }) => value),
    budget: budgetWith(repeats.used[0], repeats),
    repeats,
  };
}

function quantitiesOf({ terms, worstVertical }: MeasuredField): readonly { readonly value: number }[] {
  return [...TERMS.map((term) => terms[term]), worstVertical];
}
