/** A figure of trends and comparisons by its name. */
import type { TrendField } from '../record/limit-bands.ts';
import { nameTerm, unitOfTerm } from './terms.ts';

export function nameFigure(field: TrendField): string {
  if (field === 'crosstalk_left_pct') return 'Ghost, left eye';
  if (field === 'crosstalk_right_pct') return 'Ghost, right eye';
  return nameTerm(field);
}

export function unitOfFigure(field: TrendField): '%' | '°' {
  return field === 'crosstalk_left_pct' || field === 'crosstalk_right_pct' ? '%' : unitOfTerm(field);
}

/** "Roll, °". */
export function nameField(field: TrendField): string {
  return `${nameFigure(field)}, ${unitOfFigure(field)}`;
}
