import { expect, it } from 'vitest';
import { formatDuration, formatProgress } from '../../../../src/shells/command/batch/format-progress.ts';

it('shows how far it is, what went wrong, and the time left at the pace so far', () => {
  const progress = { done: 30, of: 120, refused: 2, failed: 1, elapsed_s: 60 };
  expect(formatProgress(progress)).toBe('[######..................] 30 of 120, 2 refused, 1 failed, 3 min left');
  expect(formatProgress({ ...progress, done: 0, refused: 0, failed: 0 })).toBe('[........................] 0 of 120');
  expect(formatProgress({ ...progress, done: 120, refused: 0, failed: 0 })).toBe(
    '[########################] 120 of 120',
  );
});

it.each([
  [0.2, '1 s'],
  [99.4, '99 s'],
  [130, '2 min'],
  [3 * 3600 + 25 * 60, '3 h 25 min'],
])('%d seconds are %s', (seconds, words) => {
  expect(formatDuration(seconds)).toBe(words);
});
