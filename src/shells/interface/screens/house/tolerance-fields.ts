/** The limits that a House may set for itself, each with what measures it. A test holds this list against the schema. */
import type { Quantity } from './units.ts';

export interface ToleranceField {
  readonly key: string;
  readonly limits: readonly { readonly key: string; readonly quantity: Quantity }[];
}

const angle = (key: string): ToleranceField => ({ key, limits: [{ key: 'limit_arcmin', quantity: 'arcmin' }] });
const percent = (key: string): ToleranceField => ({ key, limits: [{ key: 'limit_pct', quantity: 'percent' }] });

export const TOLERANCE_FIELDS: readonly ToleranceField[] = [
  angle('vertical-offset'),
  angle('worst-vertical'),
  angle('rotation'),
  percent('size'),
  {
    key: 'horizontal-offset',
    limits: [
      { key: 'limit_uncrossed_arcmin', quantity: 'arcmin' },
      { key: 'limit_crossed_arcmin', quantity: 'arcmin' },
    ],
  },
  percent('crosstalk'),
];
