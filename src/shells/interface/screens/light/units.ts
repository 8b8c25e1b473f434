/** What light is shown in, and how its numbers are written. */
import { decimalsForUncertainty, formatFigures, formatNumber } from '../../../../wording/numbers.ts';

export const LIGHT_UNITS = ['cd_m2', 'fL'] as const;
export type LightUnit = (typeof LIGHT_UNITS)[number];

interface Measured {
  readonly value: number;
  readonly u: number;
}
export type Luminance = Readonly<Record<LightUnit, Measured>>;

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

/** 1/pi cd/ft2 with the foot of 0.3048 m: for numbers that are typed; what was measured comes in both units. */
const CD_M2_PER_FL = 1 / (Math.PI * 0.3048 ** 2);

export function toCandela(amount: number, unit: LightUnit): number {
  return unit === 'fL' ? amount * CD_M2_PER_FL : amount;
}

export function fromCandela(cd_m2: number, unit: LightUnit): number {
  return unit === 'fL' ? cd_m2 / CD_M2_PER_FL : cd_m2;
}

/** A number as somebody types it, with a point or a comma; null where it is none. */
export function readNumber(text: string): number | null {
  const plain = text.trim().replace(',', '.');
  return /^(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : null;
}
