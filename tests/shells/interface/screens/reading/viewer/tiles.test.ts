import { describe, expect, it } from 'vitest';
import {
  chooseLevel,
  TILE,
  tilesInSight,
} from '../../../../../../src/shells/interface/screens/reading/viewer/tiles.ts';

const levels = [
  { width: 3000, height: 2000 },
  { width: 1500, height: 1000 },
  { width: 750, height: 500 },
];
const stage = { width: 800, height: 400 };

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
    const tiles = tilesInSight({ scale: 0.2, corner: { x: -500, y: 0 } }, stage, 1, levels);
    expect(tiles.map(({ level, column, row }) => [level, column, row])).toEqual([
      [2, 0, 0],
      [2, 1, 0],
    ]);
    expect(tiles[0]!.right).toBe(tiles[1]!.left);
    expect(tiles[1]!.width).toBe(750 - TILE);
  });

  it('begin half a photo pixel before the first centre', () => {
    const [tile] = tilesInSight({ scale: 10, corner: { x: -0.5, y: -0.5 } }, stage, 2, levels);
    expect([tile!.left, tile!.top, tile!.right - tile!.left]).toEqual([0, 0, TILE * 20]);
  });

  it('are only those that the stage shows', () => {
    const tiles = tilesInSight({ scale: 1, corner: { x: 1000, y: 900 } }, stage, 1, levels);
    expect(tiles.map(({ column, row }) => `${column} ${row}`)).toEqual(['1 1', '2 1', '3 1', '1 2', '2 2', '3 2']);
    expect(tilesInSight({ scale: 1, corner: { x: 5000, y: 0 } }, stage, 1, levels)).toEqual([]);
  });
});
