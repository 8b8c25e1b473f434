import { describe, expect, it } from 'vitest';
import { multiplyInto, smoothField, windowAround } from '../../src/scene/photo-window.ts';

describe('windowAround', () => {
  it('holds the points and the margin, within the photo', () => {
    const w = windowAround(
      [
        { x: 10.4, y: 50.2 },
        { x: 95.5, y: 70.7 },
      ],
      4,
      { width: 100, height: 200 },
    );
    expect(w).toEqual({ left: 6, top: 46, width: 94, height: 30 });
  });
  it('is empty where the points are outside', () => {
    expect(windowAround([{ x: -50, y: 10 }], 4, { width: 100, height: 100 }).width).toBe(0);
  });
});

describe('smoothField', () => {
  const window = { left: 7, top: 5, width: 45, height: 37 };
  it('is exact for what is straight', () => {
    const field = smoothField(window, ({ x, y }) => 0.5 * x - 0.25 * y);
    expect(field.data[3 * 45 + 11]).toBeCloseTo(0.5 * 18 - 0.25 * 8, 5);
    expect(field.data.at(-1)).toBeCloseTo(0.5 * 51 - 0.25 * 41, 5);
  });
  it('follows the fall of light over a photo to 1e-4', () => {
    const fall = ({ x, y }: { x: number; y: number }) => Math.exp(-(x * x + y * y) / (2 * 900 * 900));
    const field = smoothField(window, fall);
    field.data.forEach((v, i) => {
      expect(Math.abs(v - fall({ x: 7 + (i % 45), y: 5 + Math.floor(i / 45) }))).toBeLessThan(1e-4);
    });
  });
});

it('multiplyInto changes its first raster only', () => {
  const a = { width: 2, height: 1, data: Float32Array.from([1, 2]) };
  const b = { width: 2, height: 1, data: Float32Array.from([3, 4]) };
  multiplyInto(a, b);
  expect([...a.data, ...b.data]).toEqual([3, 8, 3, 4]);
});
