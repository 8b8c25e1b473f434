/** Where a copy of a picture lies in the photographs: the border of that eye's picture, displaced. */
import type { Point } from '../../../../../kernel/point.ts';
import type { MeasuredReading, ReadingStray } from '../../../../../record/reading.ts';
import { formatFigures } from '../../../../../wording/numbers.ts';
import { translate } from '../../../../../wording/translate.ts';
import { outlinePicture, viewOf } from './displacement.ts';

export interface StrayOutline {
  readonly eye: 'left' | 'right';
  /** Photo px. */
  readonly outline: readonly Point[];
  /** Where its words stand: its upper left corner. */
  readonly corner: Point;
  readonly words: string;
}

export function outlineStray(
  { eye, offset_ih: [x, y], strength_pct }: ReadingStray,
  { evidence, house }: Pick<MeasuredReading, 'evidence' | 'house'>,
): StrayOutline {
  const outline = outlinePicture(viewOf(evidence, eye), house.aspect, { x, y });
  const words = translate('reading.stray-label', { percent: formatFigures(strength_pct.value) });
  return { eye, outline, corner: outline[0]!, words };
}
