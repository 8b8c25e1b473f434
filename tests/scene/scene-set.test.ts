import { expect, it } from 'vitest';
import { randomScene } from '../../src/scene/random-scene.ts';
import { shotSeed } from '../../src/scene/scene-set.ts';

it('no two photographs of sets with different seeds have the same noise', () => {
  const seeds = [1, 2, 3, 4, 5].flatMap((seed) => {
    const set = randomScene(seed, 'judge');
    return [shotSeed(set, 'left'), shotSeed(set, 'right')];
  });
  expect(new Set(seeds).size).toBe(seeds.length);
});
