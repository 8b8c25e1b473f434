import { expect, it } from 'vitest';
import { cross, dot, unit, uprightAxes } from '../../src/scene/space.ts';

it('axes of a level look into the screen are right and up', () => {
  const { right, up } = uprightAxes({ x: 0, y: 0, z: -1 });
  expect(right).toEqual({ x: 1, y: expect.closeTo(0, 15), z: expect.closeTo(0, 15) });
  expect(up).toEqual({ x: expect.closeTo(0, 15), y: 1, z: expect.closeTo(0, 15) });
});

it('axes of any look are square to each other and of length one, right stays level', () => {
  const forward = unit({ x: 0.3, y: -0.4, z: -0.8 });
  const { right, up } = uprightAxes(forward);
  for (const [a, b, value] of [
    [right, right, 1],
    [up, up, 1],
    [right, up, 0],
    [right, forward, 0],
    [up, forward, 0],
  ] as const)
    expect(dot(a, b)).toBeCloseTo(value, 14);
  expect(right.y).toBeCloseTo(0, 15);
  expect(up.y).toBeGreaterThan(0);
  expect(dot(cross(right, up), forward)).toBeCloseTo(-1, 14);
});
