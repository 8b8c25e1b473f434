import { expect, it } from 'vitest';
import { EYES, otherEye } from '../../src/kernel/eye.ts';

it('there are two eyes, each the other of the other', () => {
  expect(EYES).toEqual(['left', 'right']);
  expect(EYES.map(otherEye)).toEqual(['right', 'left']);
});
