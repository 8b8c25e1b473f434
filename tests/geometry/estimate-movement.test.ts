import { describe, expect, it } from 'vitest';
import {
  type ChartDisplacement,
  estimateMovement,
  MOVEMENT_TERMS,
  movementAt,
} from '../../src/geometry/estimate-movement.ts';
import { elementAt } from '../../src/kernel/linear-algebra.ts';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import { layoutChart } from '../../src/target/chart.ts';

const marks = layoutChart(2.35).marks;
const slope = [1000, 30, -20, -980] as const;
const truth = { verticalOffset: 8e-4, horizontalOffset: -5e-4, rotation: 3e-4, size: -1e-4 };
const WIDE = [0.01, 0.01, 0.01, 0.01] as const;

/** Weak marks as seen in both photographs, each known to `u` px. */
function displacements(u: number, random: RandomSource, every = 1): ChartDisplacement[] {
  return marks
    .filter((_, i) => i % every === 0)
    .map(({ x, y }) => {
      const dx = truth.horizontalOffset - truth.rotation * y + truth.size * x;
      const dy = truth.verticalOffset + truth.rotation * x + truth.size * y;
      const [xx, xy, yx, yy] = slope;
      return {
        chart: { x, y },
        at: { x: 1500 + xx * x + xy * y, y: 1000 + yx * x + yy * y },
        slope,
        shift: { x: xx * dx + xy * dy + u * random.normal(), y: yx * dx + yy * dy + u * random.normal() },
        u: { x: u, y: u },
      };
    });
}

describe('estimateMovement', () => {
  it('finds shift, turn and size between the photographs', () => {
    const movement = estimateMovement(displacements(1e-6, createRandom(1)), WIDE);
    for (const term of MOVEMENT_TERMS) expect(movement.terms[term]).toBeCloseTo(truth[term], 8);
  });

  it('knows them as well as it says: offsets to 0.001 % from a ghost that is known to half a tenth of a pixel', () => {
    let held = 0;
    const trials = 200;
    for (let seed = 0; seed < trials; seed++) {
      const movement = estimateMovement(displacements(0.05, createRandom(seed)), WIDE);
      MOVEMENT_TERMS.forEach((term, i) => {
        if (Math.abs(movement.terms[term] - truth[term]) <= 2 * Math.sqrt(elementAt(movement.covariance, i, i))) held++;
      });
      expect(Math.sqrt(elementAt(movement.covariance, 0, 0))).toBeLessThan(1e-5);
    }
    expect(held / (trials * 4)).toBeGreaterThan(0.9);
    expect(held / (trials * 4)).toBeLessThan(0.99);
  });

  it('leaves the prior standing where no ghost tells', () => {
    const movement = estimateMovement([], [1e-3, 2e-3, 3e-4, 1e-5]);
    expect(movement.terms).toEqual({ verticalOffset: 0, horizontalOffset: 0, rotation: 0, size: 0 });
    for (const [i, u] of [1e-3, 2e-3, 3e-4, 1e-5].entries())
      expect(Math.sqrt(elementAt(movement.covariance, i, i))).toBeCloseTo(u, 12);
    const one = estimateMovement(displacements(0.05, createRandom(2)).slice(0, 1), [1e-3, 2e-3, 3e-4, 1e-5]);
    expect(Math.sqrt(elementAt(one.covariance, 2, 2))).toBeGreaterThan(2.5e-4);
    expect(Math.sqrt(elementAt(one.covariance, 0, 0))).toBeLessThan(5e-4);
  });

  it('is not ruled by a mark that does not follow the others', () => {
    const spoiled = displacements(0.02, createRandom(3)).map((d, i) =>
      i === 7 ? { ...d, shift: { x: 9, y: -9 } } : d,
    );
    const movement = estimateMovement(spoiled, WIDE);
    for (const [i, term] of MOVEMENT_TERMS.entries()) {
      expect(Math.abs(movement.terms[term] - truth[term])).toBeLessThan(
        4 * Math.sqrt(elementAt(movement.covariance, i, i)),
      );
    }
  });

  it('says so where the displacements scatter more than they claim', () => {
    const bold = displacements(0.05, createRandom(4)).map((d) => ({ ...d, u: { x: 0.01, y: 0.01 } }));
    expect(estimateMovement(bold, WIDE).scatter).toBeGreaterThan(3);
  });

  it('moves a place as its terms say', () => {
    const movement = estimateMovement(displacements(1e-6, createRandom(5)), WIDE);
    const { x, y, varianceY } = movementAt(movement, { x: 1, y: 0.5 });
    expect(x).toBeCloseTo(-5e-4 - 1.5e-4 - 1e-4, 7);
    expect(y).toBeCloseTo(8e-4 + 3e-4 - 0.5e-4, 7);
    expect(varianceY).toBeGreaterThan(0);
  });

  it('takes no prior of nothing', () => expect(() => estimateMovement([], [0, 1, 1, 1])).toThrow(RangeError));
});
