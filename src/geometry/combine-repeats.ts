/**
 * One result from several photographs of the same pair, in time order.
 *
 * Bare photographs each give the misalignment itself; photographs through one lens give one picture's place against a
 * common reference. In both cases
 *
 *   y_k = m + h e_k + b (t_k - t) + error,   e_k = -1/2 left, +1/2 right (h only where eyes alternate)
 *
 * by least squares: m, or h = right minus left, with the drift b of film and machine taken out. Left, right, right, left
 * makes h and b independent; left, right, left, right does not, and its u says so.
 *
 * The scatter between photographs is estimated, not assumed (type A, with its degrees of freedom). What each photograph
 * says of itself gives the internal uncertainty, the scatter the external one; the larger counts (Birge). One photograph
 * that lies apart is found and named where the others agree without it.
 *
 * Fulfils "Repeats". References: Birge, Phys. Rev. 40 (1932) 207; JCGM 100 (GUM), 4.2 and H.3; NIST/SEMATECH e-Handbook,
 * 2.3.3, for designs that take out drift.
 */
import type { Eye } from '../kernel/eye.ts';
import { fitLinear, type LinearFit } from '../kernel/linear-fit.ts';
import type { Measured } from '../kernel/measured.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { chiSquaredUpperTail } from '../kernel/statistics.ts';
import { studentFactor, studentTwoSided } from '../kernel/student.ts';

export interface Repeat {
  /** In any unit, from any start. */
  readonly time: number;
  /** Which picture it shows, where photographs of the two pictures alternate. */
  readonly eye?: Eye;
  /** One for each quantity, in an order of the caller's, and what this photograph alone says of its uncertainty. */
  readonly values: readonly Measured[];
}

export interface CombinedQuantity extends Measured {
  /** Of u; infinite where the photographs' own uncertainties count. */
  readonly degreesOfFreedom: number;
  /** Half the interval that holds the value with 95 %. */
  readonly expanded: number;
  readonly internal: number;
  /** `undefined` where no photograph is left over to tell. */
  readonly external: number | undefined;
  /** External over internal. */
  readonly birge: number | undefined;
  /** Change per unit of time, where it was fitted. */
  readonly drift: Measured | undefined;
}

export interface CombinedRepeats {
  readonly outcome: 'estimated';
  readonly quantities: readonly CombinedQuantity[];
  /** Photographs that counted. */
  readonly used: readonly number[];
  /** The one that lies apart and was left out, and the probability that one of so many does by chance. */
  readonly outlier: { readonly index: number; readonly chance: number } | undefined;
}

export type RepeatsRefusal = Refusal<'too-few-photographs' | 'one-eye-only'>;

/** Below this chance a photograph that lies apart from the others is left out. */
const APART = 0.01;

/**
 * @param repeats in any order; all with the same quantities; either all with an eye or none.
 * @param drift whether a drift is taken out; by default where enough photographs remain to tell.
 * @example
 * const combined = combineRepeats(photographs.map(({ time, terms }) => ({ time, values: terms })));
 * if (combined.outcome === 'estimated') combined.quantities[0]; // { value, u, degreesOfFreedom, expanded, … }
 */
export function combineRepeats(repeats: readonly Repeat[], drift?: boolean): CombinedRepeats | RepeatsRefusal {
  const eyes = new Set(repeats.map(({ eye }) => eye));
  const alternating = repeats.length > 0 && !eyes.has(undefined);
  if (alternating && eyes.size < 2) return refuse('one-eye-only', { photographs: repeats.length });
  const all = repeats.map((_, i) => i);
  const withDrift = drift ?? (alternating && repeats.length >= 4);
  const needed = 1 + (alternating ? 1 : 0) + (withDrift ? 1 : 0);
  if (repeats.length < needed) return refuse('too-few-photographs', { photographs: repeats.length, limit: needed });
  const outlier = findOutlier(repeats, withDrift);
  const used = all.filter((i) => i !== outlier?.index);
  const quantities = repeats[0].values.map((_, q) =>
    combineQuantity(
      used.map((i) => repeats[i]),
      q,
      withDrift,
    ),
  );
  if (quantities.includes(undefined))
    return refuse('too-few-photographs', { photographs: used.length, limit: needed + 1 });
  return { outcome: 'estimated', quantities: quantities as CombinedQuantity[], used, outlier };
}

function fitQuantity(
  repeats: readonly Repeat[],
  quantity: number,
  drift: boolean,
): { fit: LinearFit; wanted: number } | undefined {
  const alternating = repeats[0].eye !== undefined;
  const middle = repeats.reduce((sum, { time }) => sum + time / repeats.length, 0);
  const rows = repeats.map((repeat) => designRow(repeat, middle, drift));
  const values = repeats.map(({ values: v }) => v[quantity].value);
  const us = repeats.map(({ values: v }) => v[quantity].u);
  const fit = fitLinear(rows, values, us.every((u) => u > 0) ? us : undefined);
  return fit && { fit, wanted: alternating ? 1 : 0 };
}

function designRow({ time, eye }: Repeat, middle: number, drift: boolean): number[] {
  return [1, ...(eye ? [eye === 'right' ? 0.5 : -0.5] : []), ...(drift ? [time - middle] : [])];
}

function combineQuantity(repeats: readonly Repeat[], quantity: number, drift: boolean): CombinedQuantity | undefined {
  const fitted = fitQuantity(repeats, quantity, drift);
  if (!fitted) return undefined;
  const { fit, wanted } = fitted;
  const size = fit.parameters.length;
  const weighted = repeats.every(({ values }) => values[quantity].u > 0);
  const root = (k: number) => Math.sqrt(fit.inverseGram.data[k * size + k]);
  // With weights 1/u the scatter is in units of u and is the Birge ratio itself.
  const internal = weighted ? root(wanted) : 0;
  const external = fit.scatter === undefined ? undefined : fit.scatter * root(wanted);
  const scattered = external !== undefined && external > internal;
  const u = scattered ? external : internal;
  const degreesOfFreedom = scattered ? fit.degreesOfFreedom : Number.POSITIVE_INFINITY;
  const factor = u / root(wanted);
  return {
    value: fit.parameters[wanted],
    u,
    degreesOfFreedom,
    expanded: studentFactor(0.95, degreesOfFreedom) * u,
    internal,
    external,
    birge: external === undefined || internal === 0 ? undefined : external / internal,
    drift: drift ? { value: fit.parameters[size - 1], u: factor * root(size - 1) } : undefined,
  };
}

/**
 * The photograph without which the others agree, if it lies so far from what they say of it that one of so many
 * photographs and quantities does with a chance below `APART` only. Judged by the scatter of the others (Student's t), or,
 * where they scatter no more than they say, by what they say.
 */
function findOutlier(repeats: readonly Repeat[], drift: boolean): CombinedRepeats['outlier'] {
  let found: { index: number; chance: number } | undefined;
  const tries = repeats.length * (repeats[0]?.values.length ?? 0);
  repeats.forEach((repeat, index) => {
    const others = repeats.filter((_, i) => i !== index);
    repeat.values.forEach(({ value, u }, q) => {
      const fitted = others.length > 0 ? fitQuantity(others, q, drift) : undefined;
      if (!fitted || fitted.fit.scatter === undefined) return;
      const { fit } = fitted;
      const middle = others.reduce((sum, { time }) => sum + time / others.length, 0);
      const row = designRow(repeat, middle, drift);
      const size = fit.parameters.length;
      let [predicted, variance] = [0, 0];
      row.forEach((v, i) => {
        predicted += v * fit.parameters[i];
        row.forEach((w, j) => {
          variance += v * w * fit.inverseGram.data[i * size + j];
        });
      });
      const weighted = others.every(({ values }) => values[q].u > 0) && u > 0;
      const own = variance + (weighted ? u * u : 1);
      const scatter = fit.scatter!;
      const agree = weighted && chiSquaredUpperTail(scatter ** 2 * fit.degreesOfFreedom, fit.degreesOfFreedom) > 0.05;
      const distance = Math.abs(value - predicted) / Math.sqrt(own);
      const chance = agree
        ? chiSquaredUpperTail((distance / Math.max(1, scatter)) ** 2, 1)
        : studentTwoSided(distance / scatter, fit.degreesOfFreedom);
      const corrected = Math.min(1, chance * tries);
      if (corrected < APART && (!found || corrected < found.chance)) found = { index, chance: corrected };
    });
  });
  return found;
}
