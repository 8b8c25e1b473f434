import { describe, expect, it } from 'vitest';
import { startTracking, type TrackedPosition, trackPosition } from '../../src/kernel/position-filter.ts';
import { createRandom } from '../../src/kernel/random.ts';

const T = 1 / 15;
const U = 0.002;
const ACCELERATION = 0.5;

function follow(positions: readonly number[], noise: (i: number) => number): TrackedPosition[] {
  let track = startTracking(positions[0]! + noise(0), U * U, ACCELERATION);
  return positions.map((position, i) => {
    if (i > 0) track = trackPosition(track, position + noise(i), U * U, T, ACCELERATION);
    return track;
  });
}

describe('trackPosition', () => {
  it('has no delay in what moves evenly', () => {
    const even = Array.from({ length: 60 }, (_, i) => 1 - 0.2 * i * T);
    const last = follow(even, () => 0).at(-1)!;
    expect(last.position).toBeCloseTo(even.at(-1)!, 6);
    expect(last.speed).toBeCloseTo(-0.2, 5);
  });

  it('follows a stop within a tenth of a second', () => {
    // Half a turn a second, and then nothing: all but what the picture says of one look is made up for at once.
    const stop = 45;
    const places = Array.from({ length: 60 }, (_, i) => -0.5 * Math.min(i, stop) * T);
    const tracks = follow(places, () => 0);
    const late = 0.5 * 0.1;
    expect(Math.abs(tracks[stop + 1]!.position - places.at(-1)!)).toBeLessThan(late);
    expect(Math.abs(tracks[stop + 2]!.position - places.at(-1)!)).toBeLessThan(late / 3);
  });

  it('errs by what its covariance says, where the speed changes as it supposes (chi-squared of two, 400 courses)', () => {
    const random = createRandom(4);
    let sum = 0;
    const courses = 400;
    for (let course = 0; course < courses; course++) {
      let [position, speed] = [0, ACCELERATION * random.normal()];
      let track = startTracking(position + U * random.normal(), U * U, ACCELERATION);
      for (let i = 0; i < 40; i++) {
        const [a, b] = [random.normal(), random.normal()];
        const scale = ACCELERATION * Math.sqrt(T);
        position += speed * T + scale * T * (a / 2 + b / Math.sqrt(12));
        speed += scale * a;
        track = trackPosition(track, position + U * random.normal(), U * U, T, ACCELERATION);
      }
      const [p, c, s] = track.covariance;
      const [dx, dv] = [position - track.position, speed - track.speed];
      sum += (s * dx * dx - 2 * c * dx * dv + p * dv * dv) / (p * s - c * c);
    }
    // Mean of a chi-squared of two is 2; over 400 courses it lies between 1.7 and 2.3 in all but 3 of 1000.
    expect(sum / courses).toBeGreaterThan(1.7);
    expect(sum / courses).toBeLessThan(2.3);
  });
});
