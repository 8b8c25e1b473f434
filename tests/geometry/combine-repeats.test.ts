import { describe, expect, it } from 'vitest';
import { combineRepeats, type Repeat } from '../../src/geometry/combine-repeats.ts';
import type { Eye } from '../../src/kernel/eye.ts';
import { createRandom } from '../../src/kernel/random.ts';

const quantity = (result: ReturnType<typeof combineRepeats>, k = 0) => {
  if (result.outcome === 'refused') throw new Error(result.code);
  return result.quantities[k];
};
const bare = (values: readonly number[], u = 0.1): Repeat[] =>
  values.map((value, time) => ({ time, values: [{ value, u }] }));
const alternating = (order: readonly Eye[], value: (eye: Eye, time: number) => number, u = 1e-3): Repeat[] =>
  order.map((eye, time) => ({ time, eye, values: [{ value: value(eye, time), u }] }));

describe('combineRepeats of bare photographs', () => {
  it('is the weighted mean, with its own uncertainty where they agree', () => {
    const result = quantity(combineRepeats(bare([1, 1.02, 0.98])));
    expect(result.value).toBeCloseTo(1, 12);
    expect(result.u).toBeCloseTo(0.1 / Math.sqrt(3), 12);
    expect(result.degreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
    expect(result.birge).toBeCloseTo(0.2, 6);
  });

  it('has the scatter where it is larger, with its degrees of freedom', () => {
    const result = quantity(combineRepeats(bare([0, 1, 2], 0.01)));
    expect(result.u).toBeCloseTo(1 / Math.sqrt(3), 12);
    expect(result.degreesOfFreedom).toBe(2);
    expect(result.expanded / result.u).toBeCloseTo(4.303, 3);
    expect(result.birge).toBeCloseTo(100, 6);
  });

  it('finds and names the one that lies apart', () => {
    const result = combineRepeats(bare([1.01, 0.99, 4, 1, 1.02], 0.02));
    expect(result).toMatchObject({ outlier: { index: 2 }, used: [0, 1, 3, 4] });
    expect(quantity(result).value).toBeCloseTo(1.005, 3);
  });

  it('names none where all scatter', () => {
    const random = createRandom(4);
    let named = 0;
    for (let k = 0; k < 300; k++) {
      const result = combineRepeats(
        bare(
          Array.from({ length: 5 }, () => random.normal()),
          0.01,
        ),
      );
      if (result.outcome === 'estimated' && result.outlier) named++;
    }
    expect(named / 300).toBeLessThan(0.05);
  });

  it('takes a drift out where asked to', () => {
    const result = quantity(combineRepeats(bare([1, 2, 3, 4], 0.1), true));
    expect(result.value).toBeCloseTo(2.5, 12);
    expect(result.drift!.value).toBeCloseTo(1, 12);
  });

  it('of one is itself; of none there is no result', () => {
    expect(quantity(combineRepeats(bare([3])))).toMatchObject({ value: 3, u: 0.1 });
    expect(combineRepeats([])).toMatchObject({ outcome: 'refused', code: 'too-few-photographs' });
  });
});

describe('combineRepeats of alternating photographs', () => {
  const shown = (eye: Eye) => (eye === 'right' ? 0.4 : -0.1);

  it('left, right, right, left: the drift drops out', () => {
    const result = quantity(
      combineRepeats(alternating(['left', 'right', 'right', 'left'], (eye, t) => shown(eye) + 0.3 * t)),
    );
    expect(result.value).toBeCloseTo(0.5, 12);
    expect(result.drift!.value).toBeCloseTo(0.3, 12);
    expect(result.u).toBeCloseTo(1e-3, 9);
  });

  it('left, right, left, right knows the difference less well', () => {
    const order: Eye[] = ['left', 'right', 'left', 'right'];
    const result = quantity(combineRepeats(alternating(order, (eye, t) => shown(eye) + 0.3 * t)));
    expect(result.value).toBeCloseTo(0.5, 12);
    expect(result.u).toBeGreaterThan(1.1e-3);
  });

  it('holds on film that jumps and drifts, with the few degrees of freedom that it has', () => {
    const random = createRandom(11);
    let held = 0;
    const trials = 600;
    for (let k = 0; k < trials; k++) {
      const drift = 0.03 * random.normal();
      const result = quantity(
        combineRepeats(
          alternating(
            ['left', 'right', 'right', 'left'],
            (eye, t) => shown(eye) + drift * t + 0.02 * random.normal(),
            1e-5,
          ),
        ),
      );
      if (Math.abs(result.value - 0.5) <= result.expanded) held++;
    }
    expect(held / trials).toBeGreaterThan(0.92);
    expect(held / trials).toBeLessThan(0.985);
  });

  it('needs both eyes', () => {
    expect(combineRepeats(alternating(['left', 'left', 'left'], () => 0))).toMatchObject({ code: 'one-eye-only' });
  });
});
