/**
 * Which part of the photograph is seen, and how large.
 *
 *   screen = scale (photo - corner)      photo px as everywhere: the centre of the first pixel is 0, 0
 *
 * Screen px are CSS pixels from the upper left corner of the stage. All functions return a new viewport.
 */
import type { Point } from '../../../../../kernel/point.ts';
import { type Region, screenFromPhoto, type Size, type Viewport } from '../../../../../drawings/overlay-geometry.ts';

/** One photo pixel is at most this large on the screen. */
export const LARGEST_SCALE = 40;
/** The whole photograph may be shown this much smaller than the stage. */
const SMALLEST_SHARE = 0.6;

export function photoFromScreen({ scale, corner }: Viewport, s: Point): Point {
  return { x: s.x / scale + corner.x, y: s.y / scale + corner.y };
}

/** Shows the region whole and in the middle of the stage. */
export function fitRegion(region: Region, stage: Size): Viewport {
  const scale = Math.min(LARGEST_SCALE, stage.width / region.width, stage.height / region.height);
  return centreOn({ x: region.x + region.width / 2, y: region.y + region.height / 2 }, scale, stage);
}

/** Puts a photo point into the middle of the stage. */
export function centreOn(p: Point, scale: number, stage: Size): Viewport {
  return { scale, corner: { x: p.x - stage.width / 2 / scale, y: p.y - stage.height / 2 / scale } };
}

/** Enlarges about a screen point, under which the photo point stays. */
export function zoomAbout(view: Viewport, s: Point, factor: number, photo: Size, stage: Size): Viewport {
  const least = SMALLEST_SHARE * Math.min(stage.width / photo.width, stage.height / photo.height);
  const scale = Math.min(LARGEST_SCALE, Math.max(Math.min(least, view.scale), view.scale * factor));
  const held = photoFromScreen(view, s);
  return { scale, corner: { x: held.x - s.x / scale, y: held.y - s.y / scale } };
}

/** Moves what is seen by screen px: positive x moves the photograph to the right. */
export function panBy({ scale, corner }: Viewport, dx: number, dy: number): Viewport {
  return { scale, corner: { x: corner.x - dx / scale, y: corner.y - dy / scale } };
}

/** Keeps the middle of the stage within the photograph, so that it cannot be lost. */
export function keepInView(view: Viewport, photo: Size, stage: Size): Viewport {
  const clamp = (corner: number, length: number, of: number) => {
    const half = length / 2 / view.scale;
    return Math.min(of - 0.5, Math.max(-0.5, corner + half)) - half;
  };
  return {
    scale: view.scale,
    corner: {
      x: clamp(view.corner.x, stage.width, photo.width),
      y: clamp(view.corner.y, stage.height, photo.height),
    },
  };
}

/** Moves no further than needed for a photo point to stand at least `margin` screen px within the stage. */
export function bringIntoView(view: Viewport, p: Point, stage: Size, margin: number): Viewport {
  const s = screenFromPhoto(view, p);
  const shift = (at: number, length: number) => {
    const room = Math.min(margin, length / 2);
    return Math.max(room - at, 0) + Math.min(length - room - at, 0);
  };
  return panBy(view, shift(s.x, stage.width), shift(s.y, stage.height));
}

/**
 * Which pieces of a photograph's pyramid have to be drawn for a viewport, and where. A tile is `TILE` pixels of its level
 * wide and high; level n has one pixel for 2^n x 2^n photo pixels.
 */

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
export function visibleTiles(view: Viewport, stage: Size, density: number, levels: readonly Size[]): readonly Tile[] {
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
