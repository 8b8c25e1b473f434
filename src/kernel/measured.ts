/**
 * A measured value with its standard uncertainty (GUM, coverage factor k = 1), both in the same unit.
 * The 95 % interval is value - 2u to value + 2u.
 */
export interface Measured {
  readonly value: number;
  readonly u: number;
}
