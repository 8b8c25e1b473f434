import { expect, it } from 'vitest';
import { refuse } from '../../src/kernel/refusal.ts';

it('a refusal is plain data that survives JSON', () => {
  const refusal = refuse('too-few-points', { points: 3, least: 4 });
  expect(refusal).toEqual({ outcome: 'refused', code: 'too-few-points', facts: { points: 3, least: 4 } });
  expect(JSON.parse(JSON.stringify(refusal))).toEqual(refusal);
  expect(refuse('nothing-seen').facts).toEqual({});
});
