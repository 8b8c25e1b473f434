/**
 * A Kalman filter of position and speed for something that a hand moves: between two looks its speed changes at random, by
 * `acceleration` in a second.
 *
 *   F = [1 T; 0 1],   Q = a^2 T [T^2/3 T/2; T/2 1],   H = [1 0],   R = variance of what is seen
 *
 * What moves evenly has no delay in it. References: Kalman, J. Basic Eng. 82 (1960) 35; Bar-Shalom, Li and Kirubarajan,
 * Estimation with Applications to Tracking and Navigation (2001), 6.2.2, for a continuous white change of speed.
 */
export interface TrackedPosition {
  readonly position: number;
  /** Per second. */
  readonly speed: number;
  /** Of position, of both together, of speed. */
  readonly covariance: readonly [number, number, number];
}

/**
 * The first look: the position as seen, at rest as far as anybody knows.
 *
 * @example
 * let track = startTracking(0.25, 1e-6, 0.5);
 */
export function startTracking(seen: number, variance: number, acceleration: number): TrackedPosition {
  return { position: seen, speed: 0, covariance: [variance, 0, acceleration ** 2] };
}

/**
 * The next look, `after_s` later.
 *
 * @example
 * track = trackPosition(track, 0.24, 1e-6, 1 / 15, 0.5);
 */
export function trackPosition(
  before: TrackedPosition,
  seen: number,
  variance: number,
  after_s: number,
  acceleration: number,
): TrackedPosition {
  const [position, both, speed] = before.covariance;
  const change = acceleration ** 2 * after_s;
  const expected = before.position + before.speed * after_s;
  const p00 = position + 2 * after_s * both + after_s ** 2 * speed + (change * after_s ** 2) / 3;
  const p01 = both + after_s * speed + (change * after_s) / 2;
  const p11 = speed + change;
  const [g0, g1] = [p00 / (p00 + variance), p01 / (p00 + variance)];
  return {
    position: expected + g0 * (seen - expected),
    speed: before.speed + g1 * (seen - expected),
    covariance: [(1 - g0) * p00, (1 - g0) * p01, p11 - g1 * p01],
  };
}
