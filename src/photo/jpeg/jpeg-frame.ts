/**
 * The frame of a JPEG: its components and how their blocks are laid out.
 *
 * Source: ITU-T T.81 (1992), A.2 (order of blocks, interleaved or not) and B.2.2 (frame header).
 */
import type { HuffmanTable } from './huffman-table.ts';

export interface FrameComponent {
  readonly id: number;
  readonly across: number;
  readonly down: number;
  readonly tableNumber: number;
  /** Blocks that hold pixels, and blocks with the filling of the last unit; what is coded alone has only the first. */
  readonly blocksWide: number;
  readonly blocksHigh: number;
  readonly paddedWide: number;
  /** For each coefficient, the place of the last bit that was sent; -1 while nothing was. */
  readonly precision: Int8Array;
  /** Progressive only: which coefficients of each block are not zero so far, 1 to 31 and 32 to 63. */
  readonly low: Int32Array;
  readonly high: Int32Array;
  /** What the mean of every block is predicted from. */
  dc: number;
}

export interface Frame {
  readonly isProgressive: boolean;
  readonly unitsWide: number;
  readonly unitsHigh: number;
  readonly components: readonly FrameComponent[];
}

export interface CodingTables {
  readonly dc: (HuffmanTable | undefined)[];
  readonly ac: (HuffmanTable | undefined)[];
  /** First value of each quantization table: that of a block's mean. */
  readonly meanStep: (number | undefined)[];
}

/** Nothing larger is measured, and nothing is set aside for it. */
const MOST_BLOCKS = 4e6;

/** `segment`: after its length. Undefined where its values do not go together. */
export function readFrame(segment: Uint8Array, isProgressive: boolean): Frame | undefined {
  const height = (segment[1]! << 8) | segment[2]!;
  const width = (segment[3]! << 8) | segment[4]!;
  const count = segment[5]!;
  if (segment.length < 6 + 3 * count || count < 1 || count > 4 || width === 0 || height === 0) return undefined;
  const stated = Array.from({ length: count }, (_, i) => ({
    id: segment[6 + 3 * i]!,
    across: segment[7 + 3 * i]! >> 4,
    down: segment[7 + 3 * i]! & 15,
    tableNumber: segment[8 + 3 * i]!,
  }));
  if (stated.some(({ across, down }) => across < 1 || across > 4 || down < 1 || down > 4)) return undefined;
  const mostAcross = Math.max(...stated.map(({ across }) => across));
  const mostDown = Math.max(...stated.map(({ down }) => down));
  const unitsWide = Math.ceil(width / (8 * mostAcross));
  const unitsHigh = Math.ceil(height / (8 * mostDown));
  const perUnit = stated.reduce((sum, { across, down }) => sum + across * down, 0);
  if (unitsWide * unitsHigh * perUnit > 3 * MOST_BLOCKS) return undefined;
  const components = stated.map((component) => {
    const { across, down } = component;
    const paddedWide = unitsWide * across;
    const masks = isProgressive ? paddedWide * unitsHigh * down : 0;
    return {
      ...component,
      blocksWide: Math.ceil(Math.ceil((width * across) / mostAcross) / 8),
      blocksHigh: Math.ceil(Math.ceil((height * down) / mostDown) / 8),
      paddedWide,
      precision: new Int8Array(64).fill(-1),
      low: new Int32Array(masks),
      high: new Int32Array(masks),
      dc: 0,
    };
  });
  return { isProgressive, unitsWide, unitsHigh, components };
}
