import { expect, it } from 'vitest';
import { warmUp } from '../../src/application/warm-up.ts';

it('the drawn pictures pass through the whole measurement', async () => {
  await expect(warmUp()).resolves.toBeUndefined();
});
