import { expect, it } from 'vitest';
import { refuse } from '../../src/kernel/refusal.ts';
import { translatePrinting } from '../../src/workspace/round-report.ts';
import { codeOf, requireValue } from './open-in-folder.ts';

it('hands pages on, and says what hinders them', async () => {
  const bytes = Buffer.from('%PDF-1.7');
  expect(requireValue(await translatePrinting(async () => ({ outcome: 'printed', bytes }))('<p>x</p>'))).toBe(bytes);
  expect(codeOf(await translatePrinting(async () => refuse('no-printer'))('<p>x</p>'))).toBe('no-printer');
  const failed = await translatePrinting(async () => refuse('print-failed', { reason: 'ended with 3' }))('<p>x</p>');
  expect(codeOf(failed)).toBe('print-failed');
  expect(failed).toMatchObject({ failure: { message: expect.stringContaining('(ended with 3)') } });
});
