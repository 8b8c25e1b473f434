import { describe, expect, it } from 'vitest';
import type { EvennessPicture } from '../../../../../src/record/evenness.ts';
import { layoutField } from '../../../../../src/shells/interface/screens/light/field-layout.ts';

const columns = 21;
const rows = 11;
const ASPECT = 2.35;

/** Light that falls from the right (100 %) to the left (40 %). */
function picture(of: (x: number) => number = (x) => 40 + 60 * x): EvennessPicture {
  const of_centre_pct = Array.from({ length: columns * rows }, (_, i) => of((i % columns) / (columns - 1)));
  return {
    field: { columns, rows, of_centre_pct, u_pct: [] },
    hot_spot: { at: [0.3, 0.2], u_ih: null, distance_ih: 0.36, direction_deg: 34, significance: 9 },
  } as unknown as EvennessPicture;
}

describe('layoutField', () => {
  const drawing = layoutField(picture(), ASPECT);

  it('covers the range in bands of 5 percent, lighter with more light', () => {
    expect(drawing.range).toEqual([40, 100]);
    expect(drawing.bands).toHaveLength(12);
    const red = drawing.bands.map(({ colour }) => Number(/\d+/.exec(colour)));
    expect(red).toEqual(red.toSorted((a, b) => a - b));
  });

  it('draws a line every 10 percent inside the range, and the one that is asked where it stands', () => {
    expect(drawing.contours.map(({ level }) => level)).toEqual([50, 60, 70, 80, 90]);
    const x = Number(/^M(\d+\.\d)/.exec(drawing.asked)![1]);
    expect(x).toBeCloseTo(((75 - 40) / 60) * 2350, 0);
    expect(
      layoutField(
        picture((at) => 80 + 10 * at),
        ASPECT,
      ).asked,
    ).toBe('');
  });

  it('has y down and the hot spot where it lies', () => {
    expect(drawing.hotSpot.x).toBeCloseTo((0.3 / ASPECT + 0.5) * 2350, 6);
    expect(drawing.hotSpot.y).toBeCloseTo(300, 6);
    const top = drawing.places.find(({ place }) => place === 'top-left')!;
    const bottom = drawing.places.find(({ place }) => place === 'bottom-right')!;
    expect(top.y).toBeLessThan(bottom.y);
    expect(top.x).toBeLessThan(bottom.x);
    expect(drawing.places).toHaveLength(9);
  });

  it('draws an even picture as one band', () => {
    const even = layoutField(
      picture(() => 100),
      ASPECT,
    );
    expect(even.range[1]).toBe(100);
    expect(even.contours.every(({ path }) => path === '')).toBe(true);
  });
});
