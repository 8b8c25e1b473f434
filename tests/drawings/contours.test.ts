/** A grid over the unit square. */
import { describe, expect, it } from 'vitest';
import { findBand, findContour, type Nodes } from '../../src/drawings/contours.ts';
import type { Point } from '../../src/kernel/point.ts';

function sample(columns: number, rows: number, f: (x: number, y: number) => number): Nodes {
  const points: Point[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) points.push({ x: column / (columns - 1), y: row / (rows - 1) });
  }
  return { columns, rows, points, values: points.map(({ x, y }) => f(x, y)) };
}

const area = (polygon: readonly Point[]) =>
  Math.abs(
    polygon.reduce((sum, p, i) => {
      const q = polygon[(i + 1) % polygon.length]!;
      return sum + p.x * q.y - q.x * p.y;
    }, 0) / 2,
  );
const areaOf = (band: readonly (readonly Point[])[]) => band.reduce((sum, polygon) => sum + area(polygon), 0);

describe('bands', () => {
  const slope = sample(9, 7, (x, y) => x + y);

  it('of a slope have the area that geometry gives', () => {
    expect(areaOf(findBand(slope, 0, 1))).toBeCloseTo(0.5, 12);
    expect(areaOf(findBand(slope, 0.5, 1))).toBeCloseTo(0.5 - 0.125, 12);
  });

  it('together cover the whole, and none lies upon another', () => {
    const waves = sample(31, 31, (x, y) => Math.sin(7 * x) * Math.cos(5 * y));
    const total = [-1, -0.5, 0, 0.5].map((low) => areaOf(findBand(waves, low, low + 0.5)));
    expect(total.reduce((a, b) => a + b)).toBeCloseTo(1, 9);
  });

  it('are nowhere where the quantity is not', () => expect(findBand(slope, 3, 4)).toEqual([]));
});

describe('contours', () => {
  it('of a slope are one straight line from side to side', () => {
    const lines = findContour(
      sample(8, 6, (x, y) => x + 2 * y),
      1.23,
    );
    expect(lines).toHaveLength(1);
    for (const { x, y } of lines[0]!) expect(x + 2 * y).toBeCloseTo(1.23, 12);
    const ends = [lines[0]![0]!, lines[0]!.at(-1)!].map(({ x }) => x).toSorted((a, b) => a - b);
    expect(ends).toEqual([expect.closeTo(0, 12), expect.closeTo(1, 12)]);
  });

  it('about a hill are closed', () => {
    const hill = sample(41, 41, (x, y) => -Math.hypot(x - 0.5, y - 0.5));
    const [line, ...more] = findContour(hill, -0.3);
    expect(more).toEqual([]);
    expect(line![0]).toEqual(line!.at(-1));
    for (const p of line!) expect(Math.hypot(p.x - 0.5, p.y - 0.5)).toBeCloseTo(0.3, 2);
    const length = line!.slice(1).reduce((sum, p, i) => sum + Math.hypot(p.x - line![i]!.x, p.y - line![i]!.y), 0);
    expect(length).toBeCloseTo(2 * Math.PI * 0.3, 2);
  });

  it('of two hills are two', () => {
    const hills = sample(
      41,
      41,
      (x, y) =>
        Math.exp(-80 * (x - 0.25) ** 2 - 80 * (y - 0.5) ** 2) + Math.exp(-80 * (x - 0.75) ** 2 - 80 * (y - 0.5) ** 2),
    );
    expect(findContour(hills, 0.5)).toHaveLength(2);
  });
});
