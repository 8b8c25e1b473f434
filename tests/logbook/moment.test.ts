import { expect, it } from 'vitest';
import { describeMoment } from '../../src/logbook/moment.ts';

const at = new Date('2026-03-14T23:30:00.250Z');

it.each([
  [60, '2026-03-15T00:30:00.250+01:00'],
  [0, '2026-03-14T23:30:00.250+00:00'],
  [-210, '2026-03-14T20:00:00.250-03:30'],
  [345, '2026-03-15T05:15:00.250+05:45'],
])('a moment has the time on the wall, %i minutes from universal time', (offset_min, text) => {
  expect(describeMoment(at, offset_min).saved_at).toBe(text);
  expect(Date.parse(text)).toBe(at.getTime());
});

it('has the system’s zone where none is given', () => {
  expect(Date.parse(describeMoment(at).saved_at)).toBe(at.getTime());
});
