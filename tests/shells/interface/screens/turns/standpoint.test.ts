import { expect, it } from 'vitest';
import { directionSeenFrom } from '../../../../../src/shells/interface/screens/turns/standpoint.ts';

it('the same turn of the whole goes the other way for who stands behind it', () => {
  expect(directionSeenFrom('audience', 'clockwise')).toBe('clockwise');
  expect(directionSeenFrom('projector', 'clockwise')).toBe('counter-clockwise');
  expect(directionSeenFrom('projector', 'counter-clockwise')).toBe('clockwise');
});
