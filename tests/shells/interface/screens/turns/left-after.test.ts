import { expect, it } from 'vitest';
import { listLeft, placeOnLine } from '../../../../../src/shells/interface/screens/turns/left-after.ts';
import { sampleReading } from '../../../../report/sample-reading.ts';

it('carries each limit over to the unit of its term, at the nearest seat', () => {
  const left = listLeft(sampleReading);
  const vertical = left.find(({ field }) => field === 'vertical_offset_pct')!;
  const { seat, limit } = sampleReading.findings.find(
    ({ code, level }) => code === 'vertical-offset' && level === 'working',
  )!;
  // atan(d / distance), proportional to better than one in ten thousand at such angles.
  const distance_ih = sampleReading.house[seat === 'nearest-row' ? 'nearest_row_ih' : 'reference_seat_ih'];
  const expected = 100 * distance_ih * Math.tan(((limit / 60) * Math.PI) / 180);
  expect(vertical.limit! / expected).toBeCloseTo(1, 1);
  expect(vertical.now).toBe(sampleReading.misalignment.vertical_offset_pct.value);
  expect(vertical.after).toBe(sampleReading.predicted_after.vertical_offset_pct);
  expect(vertical.isInsideAfter).toBe(Math.abs(vertical.after) <= vertical.limit!);
});

it('lists each judged term once', () => {
  const fields = listLeft(sampleReading).map(({ field }) => field);
  expect(new Set(fields).size).toBe(fields.length);
  expect(fields).toContain('worst_vertical_pct');
});

it('draws limits at a quarter and three quarters of the line, and stops at its ends', () => {
  expect(placeOnLine(0, 0.4)).toEqual({ at: 50, isBeyond: false });
  expect(placeOnLine(0.4, 0.4).at).toBeCloseTo(75, 9);
  expect(placeOnLine(-0.4, 0.4).at).toBeCloseTo(25, 9);
  expect(placeOnLine(2, 0.4)).toEqual({ at: 100, isBeyond: true });
  expect(placeOnLine(-2, 0.4)).toEqual({ at: 0, isBeyond: true });
});
