/** A grid over the unit square. */
import {
  differenceEuclidean,
  filterDeficiencyDeuter,
  filterDeficiencyProt,
  filterDeficiencyTrit,
  lab65,
  type Rgb,
} from 'culori';
import { describe, expect, it } from 'vitest';
import {
  colourOfAmount,
  colourOfLight,
  cssColour,
  findBand,
  findContour,
  type Nodes,
} from '../../src/drawings/field-map.ts';
import { OVERLAY_LEFT, OVERLAY_RIGHT } from '../../src/drawings/overlay-layers.ts';
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

const shares = Array.from({ length: 41 }, (_, i) => i / 40);
const rgbOf = (share: number): Rgb => {
  const [r, g, b] = colourOfAmount(share);
  return { mode: 'rgb', r: r / 255, g: g / 255, b: b / 255 };
};
const lightness = (colour: Rgb) => lab65(colour)!.l;

describe('the colours of amounts', () => {
  const filters = {
    everybody: (colour: Rgb) => colour,
    'eyes without red': filterDeficiencyProt(1),
    'eyes without green': filterDeficiencyDeuter(1),
    'eyes without blue': filterDeficiencyTrit(1),
  } as const;

  it.each(Object.entries(filters))('become lighter with the amount for %s', (_, filter) => {
    const seen = shares.map((share) => lightness(filter(rgbOf(share)) as Rgb));
    for (let i = 1; i < seen.length; i++) expect(seen[i]).toBeGreaterThan(seen[i - 1]!);
    expect(seen.at(-1)! - seen[0]!).toBeGreaterThan(65);
  });

  it('rise in nearly even steps', () => {
    const steps = Array.from({ length: 8 }, (_, i) => lightness(rgbOf((i + 1) / 8)) - lightness(rgbOf(i / 8)));
    expect(Math.max(...steps) / Math.min(...steps)).toBeLessThan(1.7);
  });

  it('keep clear of the colours of the eyes', () => {
    const distance = differenceEuclidean('lab65');
    for (const share of shares) {
      for (const eye of [OVERLAY_LEFT, OVERLAY_RIGHT]) expect(distance(rgbOf(share), eye)).toBeGreaterThan(40);
    }
  });

  it('end at the ends of the scale', () => {
    expect(colourOfAmount(-1)).toEqual(colourOfAmount(0));
    expect(colourOfAmount(2)).toEqual(colourOfAmount(1));
    expect(cssColour(colourOfAmount(0))).toBe('rgb(58 32 66)');
  });
});

describe('colours of light', () => {
  const lightnessAt = (share: number) => {
    const [r, g, b] = colourOfLight(share);
    return lab65({ mode: 'rgb', r: r / 255, g: g / 255, b: b / 255 })!.l;
  };

  it('rise in lightness in steps that are about even', () => {
    for (let i = 1; i < 20; i++) {
      const rise = lightnessAt(i / 20) - lightnessAt((i - 1) / 20);
      expect(rise).toBeGreaterThan(2);
      expect(rise).toBeLessThan(7);
    }
  });

  it('stay at their ends', () => {
    expect(colourOfLight(-1)).toEqual(colourOfLight(0));
    expect(colourOfLight(2)).toEqual(colourOfLight(1));
  });

  it('are nearly grey, so that neither eye’s colour is meant', () => {
    for (let share = 0; share <= 1; share += 0.1) {
      const channels = colourOfLight(share);
      expect(Math.max(...channels) - Math.min(...channels)).toBeLessThan(40);
    }
  });
});
