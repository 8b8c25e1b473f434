/**
 * Paints the visible part of the photographs. Tiles are coloured when they first come into sight and kept; what is not
 * ready within one frame is shown from the smallest level until it is, so that moving never waits.
 */
import {
  blendPlanes,
  makeTint,
  NEUTRAL,
  type Plane,
  type Pyramid,
  TINT_BLUE,
  TINT_ORANGE,
  type TintedPlane,
} from './luminance-plane.ts';
import type { Size, Viewport } from '../../../../../drawings/overlay-geometry.ts';
import { TILE, type Tile, visibleTiles } from './viewport.ts';

/** What is shown where: both added, or one alone; of one exposure always all of it. */
export type Shown = 'both' | 'left' | 'right';

export interface PhotographPainter {
  /** Multiplies the light of both photographs; every tile is coloured anew. */
  setBrightness(factor: number): void;
  /** False when something was shown coarsely for want of time and should be painted again. */
  paint(pen: CanvasRenderingContext2D, shown: Shown, view: Viewport, stage: Size, density: number): boolean;
}

/** Milliseconds of one frame that may go into colouring tiles. */
const BUDGET_MS = 10;
/** Tiles kept: 1 MB each. */
const MAX_TILES = 96;

export function createPainter(photographs: { readonly left: Pyramid; readonly right: Pyramid }): PhotographPainter {
  const { left, right } = photographs;
  const isOne = left === right;
  const sizes = left.levels.length <= right.levels.length ? left.levels : right.levels;
  const kept = new Map<string, HTMLCanvasElement>();
  let brightness = 1;

  const planesOf = (shown: Shown, level: number): TintedPlane[] => {
    const tinted = ({ levels, white }: Pyramid, colour: readonly [number, number, number]): TintedPlane => ({
      plane: levels[level] as Plane,
      tint: makeTint(colour, brightness / white),
    });
    // One exposure shows both pictures; colours would claim to know which light is whose.
    if (isOne) return [tinted(left, NEUTRAL)];
    return [
      ...(shown === 'right' ? [] : [tinted(left, TINT_ORANGE)]),
      ...(shown === 'left' ? [] : [tinted(right, TINT_BLUE)]),
    ];
  };

  const colour = (shown: Shown, { level, column, row, width, height }: Omit<Tile, keyof Edges>): HTMLCanvasElement => {
    const canvas = document.createElement('canvas');
    canvas.width = width;
    canvas.height = height;
    const patch = { x: column * TILE, y: row * TILE, width, height };
    const rgba = blendPlanes(planesOf(shown, level), patch);
    canvas.getContext('2d')!.putImageData(new ImageData(rgba, width, height), 0, 0);
    return canvas;
  };

  const keep = (key: string, canvas: HTMLCanvasElement) => {
    kept.set(key, canvas);
    if (kept.size > MAX_TILES) kept.delete(kept.keys().next().value!);
    return canvas;
  };

  /** The smallest level, whole. */
  const coarse = (shown: Shown): HTMLCanvasElement => {
    const level = sizes.length - 1;
    const key = `${shown} coarse`;
    const { width, height } = sizes[level]!;
    return kept.get(key) ?? keep(key, colour(shown, { level, column: 0, row: 0, width, height }));
  };

  return {
    setBrightness(factor) {
      if (factor !== brightness) kept.clear();
      brightness = factor;
    },
    paint(pen, shown, view, stage, density) {
      const began = performance.now();
      let isComplete = true;
      for (const tile of visibleTiles(view, stage, density, sizes)) {
        const { left: x, top: y, right: x1, bottom: y1, level, column, row, width, height } = tile;
        const key = `${shown} ${level} ${column} ${row}`;
        const ready =
          kept.get(key) ?? (performance.now() - began < BUDGET_MS ? keep(key, colour(shown, tile)) : undefined);
        if (ready) {
          // Used again: it goes to the end of what is thrown away first.
          kept.delete(key);
          kept.set(key, ready);
          pen.imageSmoothingEnabled = x1 - x < width;
          pen.drawImage(ready, x, y, x1 - x, y1 - y);
        } else {
          isComplete = false;
          const reduce = 2 ** (level - (sizes.length - 1));
          pen.imageSmoothingEnabled = true;
          const [sx, sy] = [column * TILE * reduce, row * TILE * reduce];
          pen.drawImage(coarse(shown), sx, sy, width * reduce, height * reduce, x, y, x1 - x, y1 - y);
        }
      }
      return isComplete;
    },
  };
}

type Edges = Pick<Tile, 'left' | 'top' | 'right' | 'bottom'>;
