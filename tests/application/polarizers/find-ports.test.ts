import { describe, expect, it } from 'vitest';
import { findPorts } from '../../../src/application/polarizers/find-ports.ts';
import type { Raster } from '../../../src/imaging/pixels.ts';

type Box = readonly [x: number, y: number, width: number, height: number, light: number];

function draw(boxes: readonly Box[]): Raster {
  const raster = { width: 60, height: 50, data: new Float32Array(3000).fill(0.01) };
  for (const [x0, y0, width, height, light] of boxes) {
    for (let y = y0; y < y0 + height; y++) for (let x = x0; x < x0 + width; x++) raster.data[60 * y + x] = light;
  }
  return raster;
}

const UPPER: Box = [20, 10, 9, 7, 0.8];
const LOWER: Box = [21, 25, 9, 7, 0.5];

describe('findPorts', () => {
  it('finds one port in each of two pictures, however unlike their exposures', () => {
    const found = findPorts([draw([LOWER]), draw([[20, 10, 9, 7, 0.08]])]);
    expect(found).toMatchObject({
      outcome: 'found',
      arrangement: 'above',
      first: { centre: { x: 24, y: 13 } },
      second: { centre: { x: 25, y: 28 } },
    });
  });

  it('parts what a halo runs together', () => {
    const found = findPorts([draw([[20, 10, 9, 22, 0.28], UPPER, [20, 25, 9, 7, 0.7]])]);
    expect(found).toMatchObject({ outcome: 'found', first: { centre: { y: 13 } }, second: { centre: { y: 28 } } });
  });

  it('passes over sparks', () => {
    expect(findPorts([draw([UPPER, LOWER, [50, 40, 2, 1, 0.9]])])).toMatchObject({ outcome: 'found' });
  });

  it('takes a picture that shows only noise for none', () => {
    expect(findPorts([draw([UPPER, LOWER]), draw([[45, 40, 9, 7, 0.015]])])).toMatchObject({ outcome: 'found' });
  });

  it.each([
    ['darkness', [], 'underexposed'],
    ['one patch', [UPPER], 'one-port-only'],
    ['three', [UPPER, LOWER, [45, 40, 6, 6, 0.7]], 'too-many-lights'],
    [
      'two that are too unlike',
      [
        [5, 5, 20, 20, 0.8],
        [40, 20, 8, 7, 0.8],
      ],
      'too-many-lights',
    ],
    [
      'specks',
      [
        [20, 10, 2, 2, 0.8],
        [20, 20, 2, 2, 0.8],
      ],
      'ports-too-small',
    ],
    ['one speck', [[20, 10, 2, 2, 0.8]], 'ports-too-small'],
  ] as const)('refuses %s', (_name, boxes, code) => {
    expect(findPorts([draw(boxes)])).toMatchObject({ outcome: 'refused', code });
  });
});
