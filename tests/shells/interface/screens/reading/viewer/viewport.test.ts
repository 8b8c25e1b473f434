import { describe, expect, it } from 'vitest';
import { screenFromPhoto, type Viewport } from '../../../../../../src/drawings/overlay-geometry.ts';
import {
  bringIntoView,
  centreOn,
  chooseLevel,
  fitRegion,
  keepInView,
  LARGEST_SCALE,
  panBy,
  photoFromScreen,
  TILE,
  visibleTiles,
  zoomAbout,
} from '../../../../../../src/shells/interface/screens/reading/viewer/viewport.ts';

const stage = { width: 800, height: 400 };
const photo = { width: 3000, height: 2000 };
const view: Viewport = { scale: 0.5, corner: { x: 120, y: 80 } };

describe('a viewport', () => {
  it('goes from photo to screen and back', () => {
    expect(screenFromPhoto(view, { x: 320, y: 180 })).toEqual({ x: 100, y: 50 });
    expect(photoFromScreen(view, { x: 100, y: 50 })).toEqual({ x: 320, y: 180 });
  });

  it('keeps the photo point under the pointer while it is enlarged, at every factor', () => {
    const pointer = { x: 617.3, y: 93.1 };
    const held = photoFromScreen(view, pointer);
    for (const factor of [0.5, 0.97, 1.1, 3, 20]) {
      const now = photoFromScreen(zoomAbout(view, pointer, factor, photo, stage), pointer);
      expect(now.x).toBeCloseTo(held.x, 9);
      expect(now.y).toBeCloseTo(held.y, 9);
    }
  });

  it('is enlarged no further than one photo pixel on 40, and made no smaller than most of the photograph', () => {
    expect(zoomAbout(view, { x: 0, y: 0 }, 1e6, photo, stage).scale).toBe(LARGEST_SCALE);
    expect(zoomAbout(view, { x: 0, y: 0 }, 1e-6, photo, stage).scale).toBeCloseTo(0.6 * (400 / 2000), 12);
  });

  it('shows a region whole and in the middle', () => {
    const fitted = fitRegion({ x: 300, y: 500, width: 1600, height: 600 }, stage);
    expect(fitted.scale).toBe(0.5);
    expect(screenFromPhoto(fitted, { x: 1100, y: 800 })).toEqual({ x: 400, y: 200 });
  });

  it('follows the hand: what is dragged to the right is then further right', () => {
    const p = { x: 700, y: 300 };
    const before = screenFromPhoto(view, p);
    const after = screenFromPhoto(panBy(view, 30, -12), p);
    expect(after.x - before.x).toBeCloseTo(30, 9);
    expect(after.y - before.y).toBeCloseTo(-12, 9);
  });

  it('cannot lose the photograph', () => {
    const lost = keepInView({ scale: 1, corner: { x: 9000, y: -9000 } }, photo, stage);
    expect(photoFromScreen(lost, { x: 400, y: 200 })).toEqual({ x: 2999.5, y: -0.5 });
    const kept = centreOn({ x: 1500, y: 1000 }, 1, stage);
    expect(keepInView(kept, photo, stage)).toEqual(kept);
  });

  it('moves only as far as a point needs to come into sight', () => {
    const seen = bringIntoView(view, photoFromScreen(view, { x: 300, y: 200 }), stage, 60);
    expect(seen).toEqual(view);
    const p = photoFromScreen(view, { x: 900, y: -50 });
    expect(screenFromPhoto(bringIntoView(view, p, stage, 60), p)).toEqual({ x: 740, y: 60 });
  });
});

const levels = [
  { width: 3000, height: 2000 },
  { width: 1500, height: 1000 },
  { width: 750, height: 500 },
];

describe('the level of the pyramid', () => {
  it.each([
    [4, 0],
    [1, 0],
    [0.51, 0],
    [0.5, 1],
    [0.3, 1],
    [0.25, 2],
    [0.01, 2],
  ])('at %f device pixels for a photo pixel is %i', (scale, level) => expect(chooseLevel(scale, 3)).toBe(level));
});

describe('the tiles in sight', () => {
  it('of a whole photograph are all of its level, and meet without a seam', () => {
    const tiles = visibleTiles({ scale: 0.2, corner: { x: -500, y: 0 } }, stage, 1, levels);
    expect(tiles.map(({ level, column, row }) => [level, column, row])).toEqual([
      [2, 0, 0],
      [2, 1, 0],
    ]);
    expect(tiles[0]!.right).toBe(tiles[1]!.left);
    expect(tiles[1]!.width).toBe(750 - TILE);
  });

  it('begin half a photo pixel before the first centre', () => {
    const [tile] = visibleTiles({ scale: 10, corner: { x: -0.5, y: -0.5 } }, stage, 2, levels);
    expect([tile!.left, tile!.top, tile!.right - tile!.left]).toEqual([0, 0, TILE * 20]);
  });

  it('are only those that the stage shows', () => {
    const tiles = visibleTiles({ scale: 1, corner: { x: 1000, y: 900 } }, stage, 1, levels);
    expect(tiles.map(({ column, row }) => `${column} ${row}`)).toEqual(['1 1', '2 1', '3 1', '1 2', '2 2', '3 2']);
    expect(visibleTiles({ scale: 1, corner: { x: 5000, y: 0 } }, stage, 1, levels)).toEqual([]);
  });
});
