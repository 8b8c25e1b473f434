/** The terms of the misalignment in words, and the sign as a direction. */
import type { ReportedField } from '../record/term-fields.ts';
import { formatFigures, formatNumber, formatSigned } from './numbers.ts';

interface TermWording {
  readonly name: string;
  readonly unit: '%' | '°';
  /** What the right-eye picture is when the value is positive, and when it is negative; `amount` carries the unit. */
  readonly positive: (amount: string) => string;
  readonly negative: (amount: string) => string;
}

const TERMS: Readonly<Record<ReportedField, TermWording>> = {
  vertical_offset_pct: {
    name: 'Vertical offset',
    unit: '%',
    positive: (amount) => `is ${amount} too high`,
    negative: (amount) => `is ${amount} too low`,
  },
  horizontal_offset_pct: {
    name: 'Horizontal offset',
    unit: '%',
    positive: (amount) => `is ${amount} too far right`,
    negative: (amount) => `is ${amount} too far left`,
  },
  rotation_deg: {
    name: 'Roll',
    unit: '°',
    positive: (amount) => `is turned ${amount} counter-clockwise`,
    negative: (amount) => `is turned ${amount} clockwise`,
  },
  size_pct: {
    name: 'Size',
    unit: '%',
    positive: (amount) => `is ${amount} too large`,
    negative: (amount) => `is ${amount} too small`,
  },
  stretch_pct: {
    name: 'Stretch',
    unit: '%',
    positive: (amount) => `is stretched ${amount} in width`,
    negative: (amount) => `is stretched ${amount} in height`,
  },
  shear_pct: {
    name: 'Shear',
    unit: '%',
    positive: (amount) => `is drawn out ${amount} along the rising diagonal`,
    negative: (amount) => `is drawn out ${amount} along the falling diagonal`,
  },
  keystone_h_pct: {
    name: 'Keystone, sideways',
    unit: '%',
    positive: (amount) => `is ${amount} larger on its right side`,
    negative: (amount) => `is ${amount} larger on its left side`,
  },
  keystone_v_pct: {
    name: 'Keystone, upright',
    unit: '%',
    positive: (amount) => `is ${amount} larger at its top`,
    negative: (amount) => `is ${amount} larger at its bottom`,
  },
  worst_vertical_pct: {
    name: 'Worst vertical error',
    unit: '%',
    // An amount without a sign: high in one place, it may be low in another.
    positive: (amount) => `is up to ${amount} out in height`,
    negative: (amount) => `is up to ${amount} out in height`,
  },
};

export function nameTerm(field: ReportedField): string {
  return TERMS[field].name;
}

/** The value with as many places as its uncertainty deserves, signed where the sign is half of the statement. */
export function formatTerm(field: ReportedField, value: number, decimals: number): string {
  return field === 'worst_vertical_pct' ? formatNumber(Math.abs(value), decimals) : formatSigned(value, decimals);
}

export function unitOfTerm(field: ReportedField): '%' | '°' {
  return TERMS[field].unit;
}

/** "0.41 %", "0.021°". */
export function formatAmount(value: number, unit: string): string {
  const spaced = unit === '°' || unit === 'deg' ? '°' : ` ${unit}`;
  return `${formatFigures(Math.abs(value))}${spaced}`;
}

/** "is 0.41 % too high": said of the right-eye picture. */
export function describeTerm(field: ReportedField, value: number): string {
  const { unit, positive, negative } = TERMS[field];
  return (value < 0 ? negative : positive)(formatAmount(value, unit));
}

/** Where a chart point lies in the picture: "upper right corner", "left side", "centre". */
export function formatPlace([x, y]: readonly [number, number], aspect: number): string {
  const across = (2 * x) / aspect;
  const up = 2 * y;
  const vertical = up > 0.5 ? 'top' : up < -0.5 ? 'bottom' : '';
  const sideways = across > 0.5 ? 'right' : across < -0.5 ? 'left' : '';
  if (vertical && sideways) return `${vertical === 'top' ? 'upper' : 'lower'} ${sideways} corner`;
  if (vertical) return vertical;
  return sideways ? `${sideways} side` : 'centre';
}
