/** A mark in words, for its card and for those who have it read to them. */
import type { MarkEvidence } from '../../../../../record/reading.ts';
import { formatFigures, formatNumber } from '../../../../../wording/numbers.ts';
import { formatPlace } from '../../../../../wording/terms.ts';
import { translate } from '../../../../../wording/translate.ts';
import { type MarkWorth, weighMark } from './marks.ts';

export interface MarkWords {
  readonly id: string;
  readonly picture: string;
  readonly place: string;
  readonly residual: string;
  readonly uncertainty: string;
  readonly standing: string;
}

/** Residuals and uncertainties to a ten-thousandth of a pixel: finer than any of them is known. */
const DECIMALS = 4;

export function formatMark(mark: MarkEvidence, aspect: number): MarkWords {
  const { id, eye, shot, at, photo_px } = mark;
  const worth = weighMark(mark);
  const [x, y] = photo_px;
  return {
    id,
    picture: translate('reading.mark-picture', { eye, lens: shot === 'left-lens' ? 'left' : 'right' }),
    place: translate('reading.mark-place', {
      place: formatPlace(at, aspect),
      x: formatNumber(x, 1),
      y: formatNumber(y, 1),
    }),
    residual: translate('reading.mark-residual', { px: formatFigures(worth.residual_px, 2, DECIMALS) }),
    uncertainty: translate('reading.mark-uncertainty', { px: formatFigures(worth.u_px, 2, DECIMALS) }),
    standing: formatStanding(worth),
  };
}

function formatStanding({ standing, ratio }: MarkWorth): string {
  return translate(`reading.mark-${standing}`, { ratio: formatFigures(ratio, 2, 1) });
}

/** All of it as one line. */
export function readMarkOut({ id, picture, place, residual, uncertainty, standing }: MarkWords): string {
  return [id, picture, place, residual, uncertainty, standing].join(', ');
}
