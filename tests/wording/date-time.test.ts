import { expect, it } from 'vitest';
import { formatDateTime, formatLocalDateTime } from '../../src/wording/date-time.ts';

it('is the time that the wall had there, whatever the zone of the reader', () => {
  expect(formatDateTime('2026-03-04T23:59:59.9-08:00')).toBe('4 Mar 2026, 23:59');
  expect(formatDateTime('2026-12-31T00:05:00Z')).toBe('31 Dec 2026, 00:05');
  expect(formatDateTime('yesterday')).toBe('yesterday');
});

it('by this clock is the same moment where it is read', () => {
  const at = new Date(2026, 2, 4, 7, 5);
  expect(formatLocalDateTime(at.toISOString())).toBe('4 Mar 2026, 07:05');
});
