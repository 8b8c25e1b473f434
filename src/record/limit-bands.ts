/**
 * The working limits of a reading in the units of its terms, so that a row of readings can be drawn within them.
 *
 * A limit in arcminutes is the offset seen at that angle from the seat, d tan(limit), in percent of the picture height; of
 * the roll, the offset that it makes at the picture's sides, aspect/2. Of several seats the nearest counts.
 */
import { degreesFromRadians, offsetFromArcminutes } from '../kernel/angles.ts';
import type { MeasuredReading, ReadingFinding } from './reading.ts';
import type { ReportedField } from './term-fields.ts';

export type TrendField = ReportedField | 'crosstalk_left_pct' | 'crosstalk_right_pct';

/** Null where the reading names no limit on that side. */
export interface LimitBand {
  readonly low: number | null;
  readonly high: number | null;
}

const FIELDS: Readonly<Record<string, TrendField>> = {
  'vertical-offset': 'vertical_offset_pct',
  'worst-vertical': 'worst_vertical_pct',
  rotation: 'rotation_deg',
  'horizontal-offset': 'horizontal_offset_pct',
  size: 'size_pct',
  'crosstalk-left': 'crosstalk_left_pct',
  'crosstalk-right': 'crosstalk_right_pct',
};

export function limitBands(reading: MeasuredReading): Partial<Record<TrendField, LimitBand>> {
  const bands: Partial<Record<TrendField, LimitBand>> = {};
  for (const finding of reading.findings) {
    const field = FIELDS[finding.code];
    if (field === undefined || finding.level !== 'working') continue;
    const limit = expressLimit(finding, reading.house);
    const { low, high } = bands[field] ?? { low: null, high: null };
    // A horizontal shift has different limits to either side, and a reading names that of its own side.
    const isLow = field !== 'horizontal_offset_pct' || finding.value < 0;
    const isHigh = field !== 'horizontal_offset_pct' || finding.value >= 0;
    bands[field] = {
      low: isLow ? Math.max(-limit, low ?? -limit) : low,
      high: isHigh ? Math.min(limit, high ?? limit) : high,
    };
  }
  return bands;
}

function expressLimit({ code, unit, limit, seat }: ReadingFinding, house: MeasuredReading['house']): number {
  if (unit !== 'arcmin') return limit;
  const distance = seat === 'reference-seat' ? house.reference_seat_ih : house.nearest_row_ih;
  const offset = offsetFromArcminutes(limit, distance);
  return code === 'rotation' ? degreesFromRadians(offset / (house.aspect / 2)) : 100 * offset;
}
