/**
 * Analysis of variance: how much of the scatter lies between groups (days, exposures, operators), how much within.
 *
 * Groups of equal size K:   s_a^2 = K s^2(means),   s_b^2 = mean of the groups' s^2,   F = s_a^2 / s_b^2
 *   s_B^2 = (s_a^2 - s_b^2) / K,   u^2(grand mean) = s_a^2 / (J K)
 * Parts by operators, K trials each: the crossed model with interaction of gauge studies.
 *
 * References: JCGM 100 (GUM), H.5; NIST/SEMATECH e-Handbook, 7.4.3; AIAG, Measurement Systems Analysis (4th ed. 2010).
 */

import { mean, standardDeviation } from './statistics.ts';
import { fisherUpperTail } from './student.ts';

export interface GroupSummary {
  readonly mean: number;
  readonly standardDeviation: number;
}

export interface GroupVariance {
  readonly grandMean: number;
  readonly sumBetween: number;
  readonly sumWithin: number;
  readonly degreesBetween: number;
  readonly degreesWithin: number;
  /** s_a and s_b: the two estimates of the scatter of an observation, equal but for chance where the groups agree. */
  readonly fromMeans: number;
  readonly within: number;
  readonly f: number;
  /** Probability of an F as large if the groups agree. */
  readonly chance: number;
  /** s_B: standard deviation between the groups, zero where the means scatter no more than the groups' insides say. */
  readonly between: number;
  /** Of the grand mean, with what lies between the groups. */
  readonly u: number;
  /** Of the grand mean, if nothing lies between the groups. */
  readonly uPooled: number;
}

export function summariseGroup(values: readonly number[]): GroupSummary {
  return { mean: mean(values), standardDeviation: standardDeviation(values) };
}

/**
 * @param size observations in each group.
 * @example
 * const days = analyseGroups(readings.map(summariseGroup), 5);
 * days.u; // of the mean over all days
 */
export function analyseGroups(groups: readonly GroupSummary[], size: number): GroupVariance {
  const count = groups.length;
  if (count < 2 || size < 2) throw new RangeError(`${count} groups of ${size}`);
  const grandMean = mean(groups.map((g) => g.mean));
  const degreesBetween = count - 1;
  const degreesWithin = count * (size - 1);
  const sumBetween = groups.reduce((sum, g) => sum + size * (g.mean - grandMean) ** 2, 0);
  const sumWithin = groups.reduce((sum, g) => sum + (size - 1) * g.standardDeviation ** 2, 0);
  const fromMeans2 = sumBetween / degreesBetween;
  const within2 = sumWithin / degreesWithin;
  const total = count * size;
  return {
    grandMean,
    sumBetween,
    sumWithin,
    degreesBetween,
    degreesWithin,
    fromMeans: Math.sqrt(fromMeans2),
    within: Math.sqrt(within2),
    f: fromMeans2 / within2,
    chance: fisherUpperTail(fromMeans2 / within2, degreesBetween, degreesWithin),
    between: Math.sqrt(Math.max(0, (fromMeans2 - within2) / size)),
    u: Math.sqrt(fromMeans2 / total),
    uPooled: Math.sqrt((sumBetween + sumWithin) / (total - 1) / total),
  };
}

export interface GaugeStudy {
  readonly sums: {
    readonly part: number;
    readonly operator: number;
    readonly interaction: number;
    readonly error: number;
    readonly total: number;
  };
  readonly fInteraction: number;
  /** Standard deviations: of repeats, of operators, both, of parts, all. */
  readonly repeatability: number;
  readonly reproducibility: number;
  readonly gauge: number;
  readonly parts: number;
  readonly total: number;
}

/** An interaction less significant than this is pooled with the error. */
const POOLING = 0.25;

/** `values[part][operator][trial]`, all of equal size. */
export function analyseGauge(values: readonly (readonly (readonly number[])[])[]): GaugeStudy {
  const [p, o, k] = [values.length, values[0].length, values[0][0].length];
  const cells = values.map((row) => row.map((cell) => mean(cell)));
  const grand = mean(cells.flat());
  const byPart = cells.map((row) => mean(row));
  const byOperator = cells[0].map((_, j) => mean(cells.map((row) => row[j])));
  const part = byPart.reduce((sum, m) => sum + o * k * (m - grand) ** 2, 0);
  const operator = byOperator.reduce((sum, m) => sum + p * k * (m - grand) ** 2, 0);
  let [interaction, error] = [0, 0];
  values.forEach((row, i) => {
    row.forEach((cell, j) => {
      interaction += k * (cells[i][j] - byPart[i] - byOperator[j] + grand) ** 2;
      for (const v of cell) error += (v - cells[i][j]) ** 2;
    });
  });
  const [dPart, dOperator, dError] = [p - 1, o - 1, p * o * (k - 1)];
  const dInteraction = dPart * dOperator;
  const fInteraction = interaction / dInteraction / (error / dError);
  const pooled = fisherUpperTail(fInteraction, dInteraction, dError) > POOLING;
  const error2 = pooled ? (interaction + error) / (dInteraction + dError) : error / dError;
  const compare2 = pooled ? error2 : interaction / dInteraction;
  const component = (mean2: number, size: number) => Math.max(0, (mean2 - compare2) / size);
  const operator2 = component(operator / dOperator, p * k) + (pooled ? 0 : Math.max(0, (compare2 - error2) / k));
  const part2 = component(part / dPart, o * k);
  return {
    sums: { part, operator, interaction, error, total: part + operator + interaction + error },
    fInteraction,
    repeatability: Math.sqrt(error2),
    reproducibility: Math.sqrt(operator2),
    gauge: Math.sqrt(error2 + operator2),
    parts: Math.sqrt(part2),
    total: Math.sqrt(error2 + operator2 + part2),
  };
}
