/** What light is shown in, and how its numbers are written. */
import type { LitPhotographs, MeterInput } from '../../../../contract/light.ts';
import type { Measured } from '../../../../kernel/measured.ts';
import { footlambertsFromLuminance, luminanceFromFootlamberts } from '../../../../kernel/photometry.ts';
import type { LightSubject } from '../../../../record/evenness.ts';
import type { LightPlace, LitPicture } from '../../../../record/light-codes.ts';
import { decimalsForUncertainty, formatFigures, formatNumber } from '../../../../wording/numbers.ts';

export const LIGHT_UNITS = ['cd_m2', 'fL'] as const;
export type LightUnit = (typeof LIGHT_UNITS)[number];

type Luminance = Readonly<Record<LightUnit, Measured>>;

export const UNIT_SIGN: Readonly<Record<LightUnit, string>> = { cd_m2: 'cd/m²', fL: 'fL' };

/** "14.2": three figures. */
export function writeLuminance(luminance: Luminance, unit: LightUnit): string {
  return formatFigures(luminance[unit].value, 3, 2);
}

/** "14.2 ± 0.9": the 95 % interval. */
export function writeInterval({ value, u }: Measured): string {
  const decimals = Math.min(2, decimalsForUncertainty(u));
  return u > 0 ? `${formatNumber(value, decimals)} ± ${formatNumber(2 * u, decimals)}` : formatNumber(value, decimals);
}

/** For numbers that are typed; what was measured comes in both units. */
export function toCandela(amount: number, unit: LightUnit): number {
  return unit === 'fL' ? luminanceFromFootlamberts(amount) : amount;
}

export function fromCandela(cd_m2: number, unit: LightUnit): number {
  return unit === 'fL' ? footlambertsFromLuminance(cd_m2) : cd_m2;
}

/** A number as somebody types it, with a point or a comma; null where it is none. */
export function readNumber(text: string): number | null {
  const plain = text.trim().replace(',', '.');
  return /^(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : null;
}

/** A reading of a meter while it is typed. */

export interface MeterDraft {
  readonly reading: string;
  readonly unit: LightUnit;
  readonly place: LightPlace;
  readonly of: LitPicture;
  readonly isThroughGlasses: boolean;
}

/** How well a hand-held meter is read where nobody says: a part of the reading, as on the command line. */
const METER_PART = 0.04;

/** Whose light can have been read, by what lies there. */
export function picturesOf(subject: LightSubject, photographs: LitPhotographs): readonly LitPicture[] {
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

export function meterDraftOf(meter: MeterInput | null, pictures: readonly LitPicture[]): MeterDraft {
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
  pictures: readonly LitPicture[],
): { readonly meter?: MeterInput; readonly problem?: 'not-a-number' | 'too-small' | 'too-large' } {
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
