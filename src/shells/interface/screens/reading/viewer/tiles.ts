/**
 * Which pieces of a photograph's pyramid have to be drawn for a viewport, and where. A tile is `TILE` pixels of its level
 * wide and high; level n has one pixel for 2^n x 2^n photo pixels.
 */
import type { Size, Viewport } from './viewport.ts';

export const TILE = 512;

export interface Tile {
  readonly level: number;
  readonly column: number;
  readonly row: number;
  /** Pixels of the level; smaller at the photograph's right and lower edges. */
  readonly width: number;
  readonly height: number;
  /** Where it is drawn, whole device pixels, so that neighbours meet without a seam. */
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** The smallest level that still has a pixel for each device pixel. */
export function chooseLevel(devicePerPhoto: number, levels: number): number {
  if (!(devicePerPhoto > 0)) return levels - 1;
  return Math.max(0, Math.min(levels - 1, Math.floor(-Math.log2(devicePerPhoto) + 1e-9)));
}

/** `levels` are the sizes of the pyramid, `density` device pixels for one screen px. */
export function tilesInSight(view: Viewport, stage: Size, density: number, levels: readonly Size[]): readonly Tile[] {
  const level = chooseLevel(view.scale * density, levels.length);
  const { width, height } = levels[level]!;
  const pixel = 2 ** level * view.scale * density;
  const x0 = density * view.scale * (-0.5 - view.corner.x);
  const y0 = density * view.scale * (-0.5 - view.corner.y);
  const range = (origin: number, length: number, of: number): readonly [number, number] => [
    Math.max(0, Math.floor(-origin / pixel / TILE)),
    Math.min(Math.ceil(of / TILE) - 1, Math.floor((length * density - origin) / pixel / TILE)),
  ];
  const [firstColumn, lastColumn] = range(x0, stage.width, width);
  const [firstRow, lastRow] = range(y0, stage.height, height);
  const tiles: Tile[] = [];
  for (let row = firstRow; row <= lastRow; row++) {
    for (let column = firstColumn; column <= lastColumn; column++) {
      const w = Math.min(TILE, width - column * TILE);
      const h = Math.min(TILE, height - row * TILE);
      tiles.push({
        level,
        column,
        row,
        width: w,
        height: h,
        left: Math.round(x0 + pixel * column * TILE),
        top: Math.round(y0 + pixel * row * TILE),
        right: Math.round(x0 + pixel * (column * TILE + w)),
        bottom: Math.round(y0 + pixel * (row * TILE + h)),
      });
    }
  }
  return tiles;
}
