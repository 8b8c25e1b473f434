/**
 * Measured values and the combination of their standard uncertainties.
 *
 * References: JCGM 100 (GUM), 4.3.7 for the rectangular distribution and 5.1.2 for independent contributions; NIST
 * Technical Note 1297, sections 4 and 5.
 */
/**
 * A measured value with its standard uncertainty (GUM, coverage factor k = 1), both in the same unit.
 * The 95 % interval is value - 2u to value + 2u.
 */
export interface Measured {
  readonly value: number;
  readonly u: number;
}

/** The standard uncertainty of a sum of independent contributions: the root of the sum of squares. */
export function combineUncertainties(...contributions: readonly number[]): number {
  requireUncertainties(contributions);
  return Math.hypot(...contributions);
}

/**
 * The standard uncertainty of a quantity known only to lie within +- half width: half width / sqrt(3).
 *
 * @example
 * uncertaintyOfBounds(0.4); // 0.231
 */
export function uncertaintyOfBounds(halfWidth: number): number {
  requireUncertainties([halfWidth]);
  return halfWidth / Math.sqrt(3);
}

/**
 * The same quantity in another unit, or minus it.
 *
 * @example
 * scaleMeasured({ value: 0.0055, u: 1e-6 }, 100); // percent
 */
export function scaleMeasured({ value, u }: Measured, factor: number): Measured {
  return { value: value * factor, u: u * Math.abs(factor) };
}

/**
 * a - b for independent a and b.
 *
 * @example
 * subtractMeasured(after, before);
 */
export function subtractMeasured(a: Measured, b: Measured): Measured {
  return { value: a.value - b.value, u: Math.hypot(a.u, b.u) };
}

export interface WeightedMean extends Measured {
  /** Sum of ((value - mean) / u)^2: chi-squared with one degree of freedom less than there are values. */
  readonly chiSquared: number;
}

/**
 * The mean of independent measurements of one quantity with the weights 1 / u^2. Its uncertainty follows from theirs;
 * `chiSquared` tells whether they agree. Throws a RangeError for an empty list or an uncertainty that is not positive.
 *
 * @example
 * averageMeasured([{ value: 1, u: 0.1 }, { value: 1.2, u: 0.2 }]).value; // 1.04
 */
export function averageMeasured(measurements: readonly Measured[]): WeightedMean {
  if (measurements.length === 0) throw new RangeError('the mean of no measurements');
  requireUncertainties(measurements.map(({ u }) => u));
  if (measurements.some(({ u }) => u === 0)) throw new RangeError('a weighted mean with an uncertainty of zero');
  let weights = 0;
  let sum = 0;
  for (const { value, u } of measurements) {
    weights += u ** -2;
    sum += value * u ** -2;
  }
  const value = sum / weights;
  const chiSquared = measurements.reduce((total, m) => total + ((m.value - value) / m.u) ** 2, 0);
  return { value, u: weights ** -0.5, chiSquared };
}

function requireUncertainties(contributions: readonly number[]): void {
  const broken = contributions.find((u) => !(u >= 0 && Number.isFinite(u)));
  if (broken !== undefined) throw new RangeError(`an uncertainty of ${broken}`);
}
