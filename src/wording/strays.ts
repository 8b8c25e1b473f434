/** A weak displaced copy of a picture in one sentence: whose, how strong, where, and how far it reaches beyond. */
import type { ReadingStray } from '../record/reading.ts';
import { decimalsForUncertainty, formatFigures, formatNumber } from './numbers.ts';

const SIDES: Readonly<Record<ReadingStray['side'], string>> = {
  above: 'above its top edge',
  below: 'below its lower edge',
  left: 'beyond its left edge',
  right: 'beyond its right edge',
};

/** Places in percent of the picture height, as seen from the audience. */
export function formatStray({ eye, offset_ih: [x, y], strength_pct, side, beyond_ih }: ReadingStray): string {
  const decimals = decimalsForUncertainty(strength_pct.u);
  const strength = `${formatNumber(strength_pct.value, decimals)} ± ${formatNumber(2 * strength_pct.u, decimals)} %`;
  const parts = [formatShift(y, 'higher', 'lower'), formatShift(x, 'further right', 'further left')].filter(
    (words) => words !== null,
  );
  const place = parts.length > 0 ? `stands ${parts.join(' and ')} than the picture` : 'lies on the picture itself';
  const beyond = beyond_ih >= LEAST_IH ? `; it shows ${SIDES[side]}, up to ${formatFigures(100 * beyond_ih)} %` : '';
  return `A copy of the ${eye}-eye picture, ${strength} as strong, ${place}${beyond}.`;
}

/** Half a percent of the height is nothing that a mask could be set to. */
const LEAST_IH = 0.005;

function formatShift(ih: number, more: string, less: string): string | null {
  if (Math.abs(ih) < LEAST_IH) return null;
  return `${formatFigures(Math.abs(100 * ih))} % of the height ${ih > 0 ? more : less}`;
}
