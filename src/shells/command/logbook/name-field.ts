/** A figure of the trends by its name, with its unit. */
import type { TrendField } from '../../../record/limit-bands.ts';
import { nameTerm, unitOfTerm } from '../../../report/wording/terms.ts';

export function nameField(field: TrendField): string {
  if (field === 'crosstalk_left_pct') return 'Ghost, left eye, %';
  if (field === 'crosstalk_right_pct') return 'Ghost, right eye, %';
  return `${nameTerm(field)}, ${unitOfTerm(field)}`;
}
