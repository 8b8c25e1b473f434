/**
 * Where an adjustment sits on the attachment, as far as the house says: the port from the picture that it moves, the side
 * from its label, in the words for places of this language. What nobody wrote down is not made up.
 */
import type { House } from '../../../../record/house.ts';
import type { HouseAdjustment } from '../../../../record/house-adjustments.ts';

export type Port = 'upper' | 'lower';
/** Left and right as seen from the audience. `either-side`: at a side, but nobody said at which. */
export type Side = 'top' | 'bottom' | 'left' | 'right' | 'either-side' | 'front';

export interface AdjustmentPlace {
  /** The whole attachment is turned, by hand or by a screw. */
  readonly turnsWhole: boolean;
  /** Whose path it acts on; null for both, and for the whole. */
  readonly port: Port | null;
  /** Null where the house does not say. */
  readonly side: Side | null;
}

/** Words that name a place in a label, in the operator's language; each a list parted by bars. */
export interface PlaceWords {
  readonly top: string;
  readonly bottom: string;
  readonly left: string;
  readonly right: string;
  readonly side: string;
  readonly front: string;
  readonly fromProjector: string;
}

type Attachment = NonNullable<House['attachment']>;

export function placeAdjustment(
  adjustment: HouseAdjustment,
  { upper_port_shows }: Pick<Attachment, 'upper_port_shows'>,
  words: PlaceWords,
): AdjustmentPlace {
  const turnsWhole = adjustment.kind === 'attachment-rotation' || adjustment.kind === 'attachment-screw';
  const moves = 'moves' in adjustment ? adjustment.moves : 'apart';
  const port = turnsWhole || moves === 'apart' ? null : moves === upper_port_shows ? 'upper' : 'lower';
  return {
    turnsWhole,
    port,
    side: adjustment.kind === 'attachment-rotation' ? null : readSide(adjustment.label, words),
  };
}

function readSide(label: string, words: PlaceWords): Side | null {
  const says = (list: string) => new RegExp(`(?:^|[^\\p{L}])(?:${list})(?=[^\\p{L}]|$)`, 'iu').test(label);
  if (says(words.top)) return 'top';
  if (says(words.bottom)) return 'bottom';
  const [left, right] = [says(words.left), says(words.right)];
  if (left !== right) return left === says(words.fromProjector) ? 'right' : 'left';
  if (left || says(words.side)) return 'either-side';
  return says(words.front) ? 'front' : null;
}
