import { describe, expect, it } from 'vitest';
import { limitBands } from '../../src/record/limit-bands.ts';
import { sampleFinding, sampleReading } from '../report/sample-reading.ts';

const bands = limitBands(sampleReading);
/** Row 6.5 m away, picture 4.4255 m high. */
const distance = 6.5 / 4.4255;

describe('the working limits in the units of the terms', () => {
  it('are the offset seen at the angle from the nearest row: 8.6 arcminutes are 0.367 %', () => {
    const offset = 100 * distance * Math.tan((8.6 / 60 / 180) * Math.PI);
    expect(bands.vertical_offset_pct!.high).toBeCloseTo(offset, 10);
    expect(offset).toBeCloseTo(0.3674, 4);
    expect(bands.vertical_offset_pct!.low).toBe(-bands.vertical_offset_pct!.high!);
    expect(bands.worst_vertical_pct!.high).toBeCloseTo(offset, 10);
  });

  it('agree with the value in arcminutes that the same finding states', () => {
    const [finding] = sampleReading.findings;
    const perPercent = finding!.value / sampleReading.misalignment.vertical_offset_pct.value;
    expect(finding!.limit / perPercent).toBeCloseTo(bands.vertical_offset_pct!.high!, 3);
  });

  it('of the roll are what it makes at the picture’s sides', () => {
    const offset = distance * Math.tan((8.6 / 60 / 180) * Math.PI);
    expect(bands.rotation_deg!.high).toBeCloseTo((180 / Math.PI) * (offset / (2.35 / 2)), 10);
  });

  it('in percent are taken as they are; maxima do not count', () => {
    expect(bands.size_pct).toEqual({ low: -0.5, high: 0.5 });
    expect(bands.crosstalk_left_pct).toEqual({ low: -1, high: 1 });
    expect(bands.stretch_pct).toBeUndefined();
  });

  it('of the horizontal offset are known on the side of the value only', () => {
    expect(bands.horizontal_offset_pct!.low).toBeNull();
    const finding = sampleFinding({ code: 'horizontal-offset', value: -3, u: 0.1, limit: 5, seat: 'nearest-row' });
    const other = limitBands({ ...sampleReading, findings: [finding] }).horizontal_offset_pct!;
    expect(other.high).toBeNull();
    expect(other.low).toBeLessThan(0);
  });
});
