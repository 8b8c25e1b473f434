import { describe, expect, it } from 'vitest';
import { drawDial, drawHandDial } from '../../../src/report/html/dial.ts';
import { escapeText, markup } from '../../../src/report/html/markup.ts';
import { chooseExaggeration, drawOverlay } from '../../../src/report/html/overlay.ts';
import { drawToleranceBar } from '../../../src/report/html/tolerance-bar.ts';
import { sampleReading } from '../sample-reading.ts';

/** The tip of the arrow: where the filled head begins. */
function tipOf(svg: string): { x: number; y: number } {
  const [, x, y] = /<path d="M([\d.]+) ([\d.]+)L[\d. ]+Z" fill="#16191d"\/>/.exec(svg)!;
  return { x: Number(x), y: Number(y) };
}

describe('the dial', () => {
  it.each([
    [0.25, 110, 60],
    [-0.25, 10, 60],
    [0.5, 60, 110],
    [0.125, 60 + 50 * Math.SQRT1_2, 60 - 50 * Math.SQRT1_2],
    [1.25, 110, 60],
    [1, 60, 10],
  ])('an arrow of %f turns ends at (%f, %f), clockwise from the top', (turns, x, y) => {
    const tip = tipOf(drawDial(turns, 'label').source);
    expect(tip.x).toBeCloseTo(x, 1);
    expect(tip.y).toBeCloseTo(y, 1);
  });

  it('counts whole turns in the middle', () => {
    expect(drawDial(2.25, '').source).toContain('>2×<');
    expect(drawDial(0.25, '').source).not.toContain('×');
  });

  it('writes degrees instead of drawing them to scale for what is turned by hand', () => {
    expect(drawHandDial(-0.4 / 360, '').source).toContain('>0.4°<');
    expect(tipOf(drawHandDial(-0.4 / 360, '').source).x).toBeLessThan(60);
  });
});

describe('the tolerance bar', () => {
  const draw = (value: number, oneSided = false) =>
    drawToleranceBar({ value, u: 0.1, limit: 8, oneSided, label: 'x' }).source;
  const stroke = (svg: string) => Number(/M([\d.]+) 4V26/.exec(svg)?.[1]);
  const band = (svg: string) => {
    const [, x, width] = /<rect x="([\d.]+)" y="8" width="([\d.]+)"/.exec(svg)!;
    return [Number(x), Number(x) + Number(width)] as const;
  };

  it('places the value inside, on either side, or outside its band', () => {
    for (const [value, inside] of [
      [4, true],
      [-4, true],
      [9, false],
      [-9, false],
    ] as const) {
      const svg = draw(value);
      const [low, high] = band(svg);
      expect(stroke(svg) > low && stroke(svg) < high).toBe(inside);
      expect(Math.sign(stroke(svg) - 100)).toBe(Math.sign(value));
    }
  });

  it('points to what lies far outside', () => {
    expect(draw(400)).toContain('l-9 -7v14Z');
    expect(draw(-400)).toContain('l9 -7v14Z');
    expect(draw(4)).not.toContain('v14Z');
  });

  it('draws no limit on the side for which it has none', () => {
    expect(band(draw(4, true))[0]).toBeCloseTo(100, 6);
    expect(band(draw(-4, true))[1]).toBeCloseTo(100, 6);
  });
});

describe('the overlay', () => {
  it.each([
    [1.4, 10],
    [0.6, 20],
    [0.041, 300],
    [50, 1],
    [0, 1],
  ])('arrows of %f % are drawn %i times as long', (longest, factor) => {
    expect(chooseExaggeration(longest)).toBe(factor);
  });

  it('draws arrows from the left-eye to the right-eye picture, up being up', () => {
    const up = sampleReading.evidence.field.map((point) => ({ ...point, dx_pct: 0, dy_pct: 0.5 }));
    const { source } = drawOverlay(
      { ...sampleReading, evidence: { ...sampleReading.evidence, field: up, marks: [] } },
      undefined,
    );
    const shafts = [...source.matchAll(/<path d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)" stroke="#fff"/g)];
    expect(shafts.length).toBeGreaterThan(20);
    for (const [, x0, y0, x1, y1] of shafts) {
      expect(Number(x1)).toBeCloseTo(Number(x0), 1);
      expect(Number(y1)).toBeLessThan(Number(y0));
    }
    expect(source).toContain('drawn 20 times as long');
  });
});

describe('markup', () => {
  it('escapes what is text and keeps what is markup', () => {
    expect(markup`<p title="${'"<>&\''}">${markup`<b>${1}</b>`}${null}${['<', '>']}</p>`.source).toBe(
      '<p title="&quot;&lt;&gt;&amp;&#39;"><b>1</b>&lt;&gt;</p>',
    );
    expect(escapeText('&lt;')).toBe('&amp;lt;');
  });
});
