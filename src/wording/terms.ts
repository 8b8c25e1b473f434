/** The terms of the misalignment in words, and the sign as a direction; the other figures that readings are compared by. */
import type { TrendField } from '../record/limit-bands.ts';
import type { ReportedField } from '../record/term-fields.ts';
import { openTopic } from './catalogue.ts';
import messages from './en/reading.json' with { type: 'json' };
import { decimalsForUncertainty, formatFigures, formatNumber, formatSigned } from './numbers.ts';

const { translate } = openTopic(messages);

export function nameTerm(field: ReportedField): string {
  return translate(`term.${field}`);
}

/** The value with as many places as its uncertainty deserves, signed where the sign is half of the statement. */
export function formatTerm(field: ReportedField, value: number, decimals: number): string {
  return field === 'worst_vertical_pct' ? formatNumber(Math.abs(value), decimals) : formatSigned(value, decimals);
}

export function unitOfTerm(field: ReportedField): '%' | '°' {
  return field === 'rotation_deg' ? '°' : '%';
}

/** "0.41 %", "0.021°": two figures, fewer where twice the uncertainty hides them. */
export function formatAmount(value: number, unit: '%' | '°', u = 0): string {
  const shown =
    u > 0 ? formatFigures(Math.abs(value), 2, decimalsForUncertainty(2 * u)) : formatFigures(Math.abs(value));
  return translate('amount', { value: shown, unit: unit === '°' ? 'deg' : 'pct' });
}

/** "is 0.41 % too high": said of the right-eye picture. */
export function describeTerm(field: ReportedField, value: number, u?: number): string {
  const amount = formatAmount(value, unitOfTerm(field), u);
  return translate(`term.${field}.${value < 0 ? 'negative' : 'positive'}`, { amount });
}

/** Where a chart point lies in the picture: "upper right corner", "left side", "centre". */
export function formatPlace([x, y]: readonly [number, number], aspect: number): string {
  const across = (2 * x) / aspect;
  const up = 2 * y;
  const vertical = up > 0.5 ? 'top' : up < -0.5 ? 'bottom' : null;
  const sideways = across > 0.5 ? 'right' : across < -0.5 ? 'left' : null;
  if (vertical && sideways) return translate(`corner.${vertical}.${sideways}`);
  return translate(`place.${vertical ?? sideways ?? 'centre'}`);
}

/** A figure of trends and comparisons by its name. */
export function nameFigure(field: TrendField): string {
  return field === 'crosstalk_left_pct' || field === 'crosstalk_right_pct'
    ? translate(`figure.${field}`)
    : nameTerm(field);
}

export function unitOfFigure(field: TrendField): '%' | '°' {
  return field === 'crosstalk_left_pct' || field === 'crosstalk_right_pct' ? '%' : unitOfTerm(field);
}

/** "Roll, °". */
export function nameField(field: TrendField): string {
  return translate('figure', { name: nameFigure(field), unit: unitOfFigure(field) });
}
