import { describe, expect, it } from 'vitest';
import { layoutChart } from '../../src/target/chart.ts';
import { drawLadder, RUNG_THICKNESS, rungDepth } from '../../src/target/draw-ladder.ts';
import { formOfPicture, rasterise } from '../../src/target/rasterise.ts';

describe.each([1.33, 1.85, 2.35])('edge ladders of a picture of shape %s', (aspect) => {
  const chart = layoutChart(aspect);

  it('has one ladder at each edge for each eye', () => {
    const kinds = chart.ladders.map(({ eye, edge }) => `${eye} ${edge}`);
    expect(new Set(kinds).size).toBe(8);
  });

  it('counts percent of the height from top and bottom, of the width from the sides', () => {
    for (const ladder of chart.ladders) {
      const whole = ladder.edge === 'top' || ladder.edge === 'bottom' ? 1 : aspect;
      for (const rung_pct of ladder.rungs_pct) {
        expect(rungDepth(ladder, rung_pct)).toBeCloseTo((rung_pct / 100) * whole, 12);
      }
    }
  });

  it('draws every rung with its middle at its percentage, and rung 0 just inside the edge', () => {
    const height = 1744;
    const form = formOfPicture(chart, height);
    for (const ladder of chart.ladders) {
      const { data, width } = rasterise([drawLadder(ladder)], form);
      const upright = ladder.edge === 'top' || ladder.edge === 'bottom';
      const { x, y } = form.toPixel(ladder);
      // The line of pixels through the ladder's middle, across the rungs, from the edge inwards.
      const length = upright ? form.height : form.width;
      const fromEnd = ladder.edge === 'bottom' || ladder.edge === 'right';
      const profile = Array.from({ length }, (_, i) => {
        const along = fromEnd ? length - 1 - i : i;
        return upright ? data[along * width + Math.round(x)]! : data[Math.round(y) * width + along]!;
      });
      // The raster's edge is half a pixel outside the first pixel's centre; the width in pixels is rounded.
      const cut = upright ? 0 : (height * aspect - form.width) / 2;
      for (const rung_pct of ladder.rungs_pct) {
        const thick = RUNG_THICKNESS * height;
        const middle = rung_pct === 0 ? thick / 2 : rungDepth(ladder, rung_pct) * height;
        // The line's two sides, from the coverage of the first and the last pixel it touches.
        const touched = profile.flatMap((value, i) =>
          value > 0 && Math.abs(i + 0.5 + cut - middle) < thick / 2 + 1 ? [i] : [],
        );
        const [first, last] = [touched[0]!, touched.at(-1)!];
        const near = first + 1 - profile[first]! + cut;
        const far = last + profile[last]! + cut;
        expect(far).toBeCloseTo(middle + thick / 2, 4);
        if (rung_pct > 0) expect(near).toBeCloseTo(middle - thick / 2, 4);
        else expect(first).toBe(0);
      }
    }
  });
});
