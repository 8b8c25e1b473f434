/**
 * Quantities as people read and write them, and as the House keeps them. A value is always kept in the unit of its
 * field; only what is shown is converted and rounded, so that switching units to and fro changes nothing.
 */
import { METRES_PER_FOOT, MM_PER_INCH, type Units } from '../../../../wording/lengths.ts';

export type { Units };

/** What a number measures. `film` is kept in inches, in which the trade states it. */
export const QUANTITIES = [
  'room',
  'machine',
  'film',
  'micrometre',
  'angle',
  'arcmin',
  'percent',
  'turns',
  'plain',
  'count',
] as const;
export type Quantity = (typeof QUANTITIES)[number];

interface ShownAs {
  readonly unit: 'm' | 'mm' | 'ft' | 'in' | 'um' | 'deg' | 'arcmin' | 'percent' | 'turns' | 'none';
  /** Kept value = shown value x factor. */
  readonly factor: number;
}

const SAME: Readonly<Partial<Record<Quantity, ShownAs['unit']>>> = {
  micrometre: 'um',
  angle: 'deg',
  arcmin: 'arcmin',
  percent: 'percent',
  turns: 'turns',
};

export function shownAs(quantity: Quantity, units: Units): ShownAs {
  const isInch = units === 'inch';
  switch (quantity) {
    case 'room':
      return isInch ? { unit: 'ft', factor: METRES_PER_FOOT } : { unit: 'm', factor: 1 };
    case 'machine':
      return isInch ? { unit: 'in', factor: MM_PER_INCH } : { unit: 'mm', factor: 1 };
    case 'film':
      return isInch ? { unit: 'in', factor: 1 } : { unit: 'mm', factor: 1 / MM_PER_INCH };
    default:
      return { unit: SAME[quantity] ?? 'none', factor: 1 };
  }
}

/** More digits than any tape or caliper gives, and few enough to hide the noise of conversion. */
const SHOWN_DIGITS = 6;

/** A kept value as text in the shown unit. */
export function formatQuantity(value: number, quantity: Quantity, units: Units): string {
  const { factor } = shownAs(quantity, units);
  return formatNumber(factor === 1 ? value : value / factor);
}

export const formatNumber = (value: number): string => String(Number(value.toPrecision(SHOWN_DIGITS)));

/**
 * Text in the shown unit -> the kept value; undefined where it is no number. A comma may stand for the point; a room
 * may be given in feet and inches (34' 1.5", 34 ft 1.5 in), and an inch in fractions (3/8, 1 1/2).
 */
export function parseQuantity(text: string, quantity: Quantity, units: Units): number | undefined {
  const { unit, factor } = shownAs(quantity, units);
  const shown = unit === 'ft' ? parseFeet(text) : parseNumber(text);
  if (shown === undefined) return undefined;
  return factor === 1 ? shown : shown * factor;
}

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)$/;
const FRACTION = /^([+-]?)(?:(\d+)\s+)?(\d+)\s*\/\s*([1-9]\d*)$/;
const FEET = /^(.+?)\s*(?:ft|feet|foot|')\s*(?:(.+?)\s*(?:in|inches|inch|"|'')?)?$/i;

export function parseNumber(text: string): number | undefined {
  const plain = text.trim().replace(',', '.').replace('\u2212', '-');
  if (NUMBER.test(plain)) return Number(plain);
  const fraction = FRACTION.exec(plain);
  if (!fraction) return undefined;
  const [, sign, whole = '0', over, under] = fraction;
  return (sign === '-' ? -1 : 1) * (Number(whole) + Number(over) / Number(under));
}

function parseFeet(text: string): number | undefined {
  const divided = FEET.exec(text.trim());
  if (!divided) return parseNumber(text);
  const feet = parseNumber(divided[1]!);
  const inches = divided[2] === undefined ? 0 : parseNumber(divided[2]);
  return feet === undefined || inches === undefined ? undefined : feet + inches / 12;
}
