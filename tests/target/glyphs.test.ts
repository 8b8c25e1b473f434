import { describe, expect, it } from 'vitest';
import { drawGlyph, drawText } from '../../src/target/glyphs.ts';
import { rasterise } from '../../src/target/rasterise.ts';
import { flatten } from '../../src/target/shapes.ts';

const CHARACTERS = [...'LEFTRIGH0123456789%'];

describe('block letters', () => {
  it.each(CHARACTERS)('%s stands one unit high within its width', (character) => {
    for (const stroke of [0.12, 0.16, 0.18]) {
      const { width, contours } = drawGlyph(character, stroke);
      const corners = contours.flatMap((contour) => flatten(contour, 1e-8));
      expect(Math.min(...corners.map(({ y }) => y))).toBeCloseTo(0, 7);
      expect(Math.max(...corners.map(({ y }) => y))).toBeCloseTo(1, 7);
      expect(Math.min(...corners.map(({ x }) => x))).toBeGreaterThanOrEqual(-1e-9);
      expect(Math.max(...corners.map(({ x }) => x))).toBeLessThanOrEqual(width + 1e-9);
    }
  });

  it('differ from each other', () => {
    const pictures = CHARACTERS.map((character) => {
      const { width, contours } = drawGlyph(character, 0.16);
      const toPixel = ({ x, y }: { x: number; y: number }) => ({ x: (9 * x) / width, y: 15 - 15 * y });
      return rasterise([{ part: character, level: 1, contours }], { width: 10, height: 16, toPixel }).data;
    });
    pictures.forEach((a, i) => {
      for (const b of pictures.slice(i + 1)) {
        expect(a.reduce((difference, value, k) => difference + Math.abs(value - b[k]!), 0)).toBeGreaterThan(5);
      }
    });
  });

  it('stand side by side in a text without touching', () => {
    const one = drawGlyph('1', 0.16).width;
    expect(drawText('11', 0.16).width).toBeGreaterThan(2 * one);
    expect(() => drawText('LEFT?', 0.16)).toThrow(RangeError);
  });
});
