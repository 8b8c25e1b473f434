import { describe, expect, it } from 'vitest';
import { type Polynomial, polynomialAt, polynomialDerivative, POWERS } from '../../src/kernel/polynomial.ts';
import { createRandom } from '../../src/kernel/random.ts';

const random = createRandom(4);
const polynomial: Polynomial = {
  scale: { x: 1.2, y: 0.5 },
  x: POWERS.map(() => random.normal()),
  y: POWERS.map(() => random.normal()),
};

describe('polynomialAt', () => {
  it('is the sum of its powers', () => {
    const only = (i: number, j: number) => POWERS.map(([a, b]) => (a === i && b === j ? 3 : 0));
    const at = { x: 0.6, y: -0.25 };
    expect(polynomialAt({ scale: { x: 1.2, y: 0.5 }, x: only(2, 1), y: only(0, 3) }, at)).toEqual({
      x: 3 * 0.25 * -0.5,
      y: 3 * -0.125,
    });
  });

  it('has the derivatives that its differences say', () => {
    const at = { x: 0.9, y: 0.31 };
    const step = 1e-5;
    const off = (dx: number, dy: number) => polynomialAt(polynomial, { x: at.x + dx, y: at.y + dy });
    const [xp, xm, yp, ym] = [off(step, 0), off(-step, 0), off(0, step), off(0, -step)];
    const [xx, xy, yx, yy] = polynomialDerivative(polynomial, at);
    expect(xx).toBeCloseTo((xp.x - xm.x) / (2 * step), 6);
    expect(xy).toBeCloseTo((yp.x - ym.x) / (2 * step), 6);
    expect(yx).toBeCloseTo((xp.y - xm.y) / (2 * step), 6);
    expect(yy).toBeCloseTo((yp.y - ym.y) / (2 * step), 6);
  });
});
