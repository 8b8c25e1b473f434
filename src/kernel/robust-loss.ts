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

/** The loss and its weight, d loss / d(s^2), of a block whose residuals have the sum of squares s^2. */
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
