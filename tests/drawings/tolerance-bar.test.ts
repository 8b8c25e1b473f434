import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { GhostScale, ToleranceBar } from '../../src/drawings/tolerance-bar.tsx';

const draw = (value: number, isOneSided = false, limit = 8, u = 0.1) =>
  renderToStaticMarkup(createElement(ToleranceBar, { value, u, limit, isOneSided, label: 'x' }));

/** Drawing px: from the left end of the band to its right one. */
function bandOf(svg: string): readonly [number, number] {
  const [, x, width] = /<rect x="([\d.]+)" y="5" width="([\d.]+)"/.exec(svg)!;
  return [Number(x), Number(x) + Number(width)];
}

/** Both ends of the interval, and the value. */
function strokesOf(svg: string): readonly [number, number, number] {
  return /d="M([\d.]+) 11H([\d.]+)M([\d.]+) 2V20"/.exec(svg)!.slice(1).map(Number) as [number, number, number];
}

describe('a value against its limit', () => {
  it.each([-9, -8.59, 0, 3, 8.61, 20])(
    '%f lies within the band exactly when its amount is within the limit',
    (value) => {
      const svg = draw(value, false, 8.6);
      const [low, high] = bandOf(svg);
      const [, , at] = strokesOf(svg);
      expect(at >= low && at <= high).toBe(Math.abs(value) <= 8.6);
      expect(Math.sign(at - 80)).toBe(Math.sign(value));
    },
  );

  it('has its 95 % interval about it, true to scale', () => {
    const svg = draw(4, false, 8, 0.5);
    const [low, high] = bandOf(svg);
    const [from, to, value] = strokesOf(svg);
    expect((to - from) / (high - low)).toBeCloseTo(2 / 16, 3);
    expect((from + to) / 2).toBeCloseTo(value, 1);
    expect((low + high) / 2).toBeCloseTo(80, 1);
  });

  it('is only pointed at when it lies far outside', () => {
    expect(draw(400)).toContain('M154 11l-8 -6v12Z');
    expect(draw(-400)).toContain('M6 11l8 -6v12Z');
    expect(draw(30, false, 8.6)).not.toContain('v12Z');
  });

  it('shows one side where the other has another limit', () => {
    expect(bandOf(draw(3, true, 17.2))[0]).toBeCloseTo(80, 6);
    expect(bandOf(draw(-3, true, 17.2))[1]).toBeCloseTo(80, 6);
  });
});

it('places ghosts by decades, from 0.1 to 100 %', () => {
  const lengthOf = (crosstalk_pct: number) =>
    Number(
      /height="8"|width="(\d+)"/.exec(
        renderToStaticMarkup(createElement(GhostScale, { crosstalk_pct, limit_pct: undefined, label: '' })),
      )![1],
    );
  expect([0.01, 0.1, 1, 10, 100, 2500].map(lengthOf)).toEqual([0, 0, 80, 160, 240, 240]);
});
