/** A reading of a meter while it is typed. */
import type { LitPhotographs, MeterOrder } from '../../../../contract/light.ts';
import type { LightSubject } from '../../../../record/evenness.ts';
import type { LightPlace, LitPictureName } from '../../../../record/light-finding.ts';
import { formatFigures } from '../../../../wording/numbers.ts';
import { type LightUnit, readNumber, toCandela } from './units.ts';

export interface MeterDraft {
  readonly reading: string;
  readonly unit: LightUnit;
  readonly place: LightPlace;
  readonly of: LitPictureName;
  readonly isThroughGlasses: boolean;
}

/** How well a hand-held meter is read where nobody says: a part of the reading, as on the command line. */
const METER_PART = 0.04;

/** Whose light can have been read, by what lies there. */
export function picturesOf(subject: LightSubject, photographs: LitPhotographs): readonly LitPictureName[] {
  const { bare, 'left-lens': left, 'right-lens': right } = photographs;
  if (subject === 'open-gate') {
    return [
      ...(bare ? ['bare' as const] : []),
      ...(left ? ['left-lens' as const] : []),
      ...(right ? ['right-lens' as const] : []),
    ];
  }
  return left && !right
    ? ['left-eye', 'right-eye']
    : right && !left
      ? ['right-eye', 'left-eye']
      : ['left-eye', 'right-eye'];
}

export function meterDraftOf(meter: MeterOrder | null, pictures: readonly LitPictureName[]): MeterDraft {
  return {
    reading: meter === null ? '' : formatFigures(meter.cd_m2, 4, 3),
    unit: 'cd_m2',
    place: meter?.place ?? 'centre',
    of: meter?.of ?? pictures[0] ?? 'left-eye',
    isThroughGlasses: meter?.through_glasses ?? false,
  };
}

export function readMeter(
  { reading, unit, place, of, isThroughGlasses }: MeterDraft,
  pictures: readonly LitPictureName[],
): { readonly meter?: MeterOrder; readonly problem?: 'not-a-number' | 'too-small' | 'too-large' } {
  if (reading.trim() === '') return {};
  const value = readNumber(reading);
  if (value === null) return { problem: 'not-a-number' };
  const cd_m2 = toCandela(value, unit);
  if (cd_m2 < 0.01) return { problem: 'too-small' };
  if (cd_m2 > 10_000) return { problem: 'too-large' };
  const read = pictures.includes(of) ? of : pictures[0];
  if (read === undefined) return {};
  return { meter: { of: read, place, cd_m2, u_cd_m2: METER_PART * cd_m2, through_glasses: isThroughGlasses } };
}
