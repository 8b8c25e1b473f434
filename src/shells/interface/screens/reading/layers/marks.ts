/** Marks in the order in which one reads, how to go from one to another, which is meant by a place, and what it is worth. */
import type { Point } from '../../../../../kernel/point.ts';
import { type MarkWorth, rateMark } from '../../../../../record/judge-reading.ts';
import type { MarkEvidence } from '../../../../../record/reading.ts';
import { formatFigures, formatNumber } from '../../../../../wording/numbers.ts';
import { formatPlace } from '../../../../../wording/terms.ts';
import { translate } from '../../../../../wording/translate.ts';

/** A mark may be seen in both photographs where a ghost is strong; its name alone is then not enough. */
export function keyOfMark({ id, shot }: Pick<MarkEvidence, 'id' | 'shot'>): string {
  return `${shot}/${id}`;
}

/** Rows from the top, each from the left; rows of the chart are level. */
export function orderMarks(marks: readonly MarkEvidence[]): readonly MarkEvidence[] {
  return marks.toSorted(
    (a, b) => b.at[1] - a.at[1] || a.at[0] - b.at[0] || (a.shot < b.shot ? -1 : a.shot > b.shot ? 1 : 0),
  );
}

export type Move = 'next' | 'previous' | 'up' | 'down' | 'first' | 'last';

/** Index in the reading order after a move; it stops at the ends. `ordered` is not empty. */
export function moveAmongMarks(ordered: readonly MarkEvidence[], from: number, move: Move): number {
  const last = ordered.length - 1;
  switch (move) {
    case 'first':
      return 0;
    case 'last':
      return last;
    case 'next':
      return Math.min(last, from + 1);
    case 'previous':
      return Math.max(0, from - 1);
    default:
      return nearestInNextRow(ordered, from, move === 'up' ? 1 : -1);
  }
}

/** The mark nearest sideways in the next row up (1) or down (-1). */
function nearestInNextRow(ordered: readonly MarkEvidence[], from: number, direction: 1 | -1): number {
  const [x, y] = ordered[from]!.at;
  const beyond = ordered.map(({ at }) => at[1]).filter((row) => direction * (row - y) > 1e-6);
  if (beyond.length === 0) return from;
  const row = direction > 0 ? Math.min(...beyond) : Math.max(...beyond);
  let best = from;
  let least = Number.POSITIVE_INFINITY;
  ordered.forEach(({ at }, i) => {
    const off = Math.abs(at[0] - x);
    if (Math.abs(at[1] - row) < 1e-6 && off < least - 1e-9) [best, least] = [i, off];
  });
  return best;
}

/** The mark nearest to a photo point, if it is no further than `within_px`. */
export function markNear(marks: readonly MarkEvidence[], p: Point, within_px: number): MarkEvidence | undefined {
  let best: MarkEvidence | undefined;
  let least = within_px;
  for (const mark of marks) {
    const off = Math.hypot(mark.photo_px[0] - p.x, mark.photo_px[1] - p.y);
    if (off <= least) [best, least] = [mark, off];
  }
  return best;
}

/** A mark in words, for its card and for those who have it read to them. */

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
  const worth = rateMark(mark);
  const [x, y] = photo_px;
  return {
    id,
    picture: translate('reading.mark-picture', { eye, shot: shot.replace('-lens', '') }),
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
export function joinMarkWords({ id, picture, place, residual, uncertainty, standing }: MarkWords): string {
  return [id, picture, place, residual, uncertainty, standing].join(', ');
}
