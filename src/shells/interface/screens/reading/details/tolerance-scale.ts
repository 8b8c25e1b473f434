/**
 * Where a value and its 95 % interval lie against the limits, on a scale from 0 to 1 with zero in the middle. The scale
 * reaches at most `MOST_LIMITS` limits; what lies beyond is only pointed at.
 */
export interface ToleranceScale {
  /** Edges of the band that is allowed. */
  readonly low: number;
  readonly high: number;
  readonly value: number;
  /** The 95 % interval, value ± 2u. */
  readonly from: number;
  readonly to: number;
  readonly isBeyond: boolean;
}

const MOST_LIMITS = 4;

/** `isOneSided`: the limit on the other side is another one and is not shown. */
export function layOutTolerance(value: number, u: number, limit: number, isOneSided: boolean): ToleranceScale {
  const span = Math.min(MOST_LIMITS * limit, Math.max(1.6 * limit, 1.12 * (Math.abs(value) + 2 * u)));
  const place = (v: number) => 0.5 + Math.max(-span, Math.min(span, v)) / span / 2;
  return {
    low: place(isOneSided && value >= 0 ? 0 : -limit),
    high: place(isOneSided && value < 0 ? 0 : limit),
    value: place(value),
    from: place(value - 2 * u),
    to: place(value + 2 * u),
    isBeyond: Math.abs(value) > span,
  };
}

/** Place of a leak on a logarithmic scale from 0.1 to 100 %, 0 to 1: ghosts span three decades. */
export function placeLeak(leak_pct: number): number {
  return (Math.log10(Math.min(100, Math.max(0.1, leak_pct))) + 1) / 3;
}
