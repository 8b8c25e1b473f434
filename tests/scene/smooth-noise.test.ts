import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/kernel/random.ts';
import { drawSmoothField } from '../../src/scene/smooth-noise.ts';

const at = { x: 0.3, y: -0.2 };

describe('drawSmoothField', () => {
  it('is as wide as it was told over many seeds, and correlated as a Gaussian over its length', () => {
    let [here, there, both] = [0, 0, 0];
    const count = 4000;
    for (let seed = 0; seed < count; seed++) {
      const field = drawSmoothField(createRandom(seed), 2, 0.5);
      const [a, b] = [field(at).x, field({ x: at.x + 0.5, y: at.y }).x];
      here += a * a;
      there += b * b;
      both += a * b;
    }
    expect(Math.sqrt(here / count)).toBeCloseTo(2, 0.7);
    expect(both / Math.sqrt(here * there)).toBeCloseTo(Math.exp(-0.5), 1);
  });
  it('both components are drawn apart; the same source gives the same field', () => {
    const field = drawSmoothField(createRandom(7), 1, 0.3);
    expect(field(at).x).not.toBeCloseTo(field(at).y, 3);
    expect(drawSmoothField(createRandom(7), 1, 0.3)(at)).toEqual(field(at));
  });
});
