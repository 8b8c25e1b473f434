import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { Overlay } from '../../src/drawings/overlay.tsx';
import { sampleReading } from '../report/sample-reading.ts';

const withField = (dy_pct: number) => ({
  ...sampleReading,
  evidence: {
    ...sampleReading.evidence,
    field: sampleReading.evidence.field.map((point) => ({ ...point, dx_pct: 0, dy_pct })),
    marks: [],
  },
});
const draw = (dy_pct: number) =>
  renderToStaticMarkup(createElement(Overlay, { reading: withField(dy_pct) as never, picture: null }));

describe('the overlay', () => {
  it.each([
    [1.4, '10 times as long'],
    [0.55, '20 times as long'],
    // Far within: anchored at the limit, and not blown up until it fills the room.
    [0.041, '20 times as long'],
    [50, 'to scale'],
  ])('draws arrows of %f % %s', (longest, words) => {
    expect(draw(longest)).toContain(`drawn ${words}`);
  });

  it('draws arrows from the left-eye to the right-eye picture, up being up', () => {
    const light = /<path d="([^"]*)" fill="none" stroke="#ffffff" stroke-width="2" stroke-linejoin="round"/.exec(
      draw(0.5),
    )!;
    const shafts = [...light[1]!.matchAll(/M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)/g)];
    expect(shafts.length).toBeGreaterThan(20);
    for (const [, x0, y0, x1, y1] of shafts) {
      expect(Number(x1)).toBeCloseTo(Number(x0), 0);
      expect(Number(y1)).toBeLessThan(Number(y0));
    }
  });

  it('shows the photographs below everything else, over the whole drawing', () => {
    const picture = { dataUri: 'data:image/png;base64,AA==', region: { x: 10, y: 20, width: 500, height: 250 } };
    const svg = renderToStaticMarkup(createElement(Overlay, { reading: sampleReading as never, picture }));
    expect(svg).toContain('viewBox="0 0 1000 500"');
    expect(svg.indexOf('<image')).toBeLessThan(svg.indexOf('<path'));
  });
});
