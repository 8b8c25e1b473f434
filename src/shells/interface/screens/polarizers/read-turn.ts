/** A turn as somebody types it: a number with its sign, degrees; null where nothing stands there yet. */
const MOST_DEG = 360;

export function readTurn(text: string): number | null | 'wrong' {
  const plain = text
    .trim()
    .replace(/[\u2212\u2013]/g, '-')
    .replace(',', '.')
    .replace(/\s*°$/, '');
  if (plain === '') return null;
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain)) return 'wrong';
  const turn = Number(plain);
  return Math.abs(turn) <= MOST_DEG ? turn : 'wrong';
}
