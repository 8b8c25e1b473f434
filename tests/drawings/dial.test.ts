import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { HandDial, ScrewDial, TurnDial } from '../../src/drawings/dial.tsx';
import { sampleReading } from '../report/sample-reading.ts';

const screw = (turns: number, overshoot = 0) =>
  renderToStaticMarkup(createElement(ScrewDial, { turns, overshoot, name: 'a turn' }));

/** The tips of the arrows: where their filled heads begin. */
function tipsOf(svg: string): readonly { readonly x: number; readonly y: number }[] {
  return [...svg.matchAll(/<path d="M([\d.]+) ([\d.]+)L[\d. ]+Z" fill="var\(--accent\)"/g)].map(([, x, y]) => ({
    x: Number(x),
    y: Number(y),
  }));
}

describe('the dial of a screw', () => {
  it.each([
    [0.25, 214, 120],
    [-0.25, 26, 120],
    [0.5, 120, 214],
    [0.125, 120 + 94 * Math.SQRT1_2, 120 - 94 * Math.SQRT1_2],
    [1.25, 214, 120],
    [1, 120, 26],
  ])('an arrow of %f turns ends at (%f, %f), clockwise from the top', (turns, x, y) => {
    const [tip] = tipsOf(screw(turns));
    expect(tip!.x).toBeCloseTo(x, 1);
    expect(tip!.y).toBeCloseTo(y, 1);
  });

  it('counts whole turns in the middle', () => {
    expect(screw(2.25)).toMatch(/>2\s?×</);
    expect(screw(0.25)).not.toContain('×');
  });

  it('goes past the end and comes back where the play asks for it, and only counter-clockwise', () => {
    expect(tipsOf(screw(-0.25, 0.125))).toHaveLength(2);
    expect(tipsOf(screw(0.25, 0.125))).toHaveLength(1);
  });
});

it('what is turned by hand is magnified, and its degrees are written', () => {
  const svg = renderToStaticMarkup(createElement(HandDial, { degrees: -0.4, name: 'a little' }));
  expect(svg).toMatch(/>1\s?°</);
  expect(tipsOf(svg)[0]!.x).toBeLessThan(120);
});

it('a turn of the advice gets the dial of its kind, with its way in words for those who do not see it', () => {
  for (const turn of sampleReading.turns) {
    const svg = renderToStaticMarkup(createElement(TurnDial, { turn, name: turn.label }));
    expect(svg).toContain('role="img"');
    expect(tipsOf(svg).length).toBeGreaterThan(0);
  }
});
