import { describe, expect, it } from 'vitest';
import {
  chooseProtractor,
  drawArc,
  drawArrow,
  followScrew,
  placeOnDial,
  TICKS,
} from '../../src/drawings/dial-geometry.ts';

const numbers = (path: string) => path.match(/-?\d+(?:\.\d+)?/g)!.map(Number);

it('counts turns clockwise from the top, as on a screen whose y goes down', () => {
  expect(placeOnDial(0, 50)).toEqual({ x: 120, y: 70 });
  expect(placeOnDial(1 / 4, 50)).toEqual({ x: 170, y: 120 });
  expect(placeOnDial(-1 / 4, 50)).toEqual({ x: 70, y: 120 });
  expect(placeOnDial(1 / 8, 50).x).toBeCloseTo(120 + 50 * Math.SQRT1_2, 1);
});

it('sweeps clockwise to the larger angle, the long way where it is more than half', () => {
  expect(drawArc(0, 1 / 4, 50)).toBe('M120 70A50 50 0 0 1 170 120');
  expect(drawArc(0, -1 / 4, 50)).toBe('M120 70A50 50 0 0 0 70 120');
  expect(drawArc(0, 3 / 4, 50)).toContain(' 1 1 ');
});

it.each([1 / 32, 1 / 8, -1 / 2, 29 / 32])(
  'the arrow of %f turns has its tip at the end, and its head behind',
  (turns) => {
    const { line, head } = drawArrow(0, turns, 90);
    const [x, y] = numbers(head);
    const tip = placeOnDial(turns, 90);
    expect([x, y]).toEqual([tip.x, tip.y]);
    const end = numbers(line).slice(-2);
    // The line ends before the tip, and on the way to it.
    const angle = (Math.atan2(end[0]! - 120, 120 - end[1]!) / (2 * Math.PI)) * Math.sign(turns);
    const along = angle < 0 ? angle + 1 : angle;
    expect(along).toBeLessThan(Math.abs(turns));
    expect(along).toBeGreaterThan(0.2 * Math.abs(turns));
  },
);

it('marks sixteenths, four of them as quarters', () => {
  expect(TICKS).toHaveLength(16);
  expect(TICKS.filter(({ rank }) => rank === 'quarter').map(({ at }) => at)).toEqual([0, 0.25, 0.5, 0.75]);
});

describe('the way of a screw', () => {
  it('counts whole rounds apart', () => {
    expect(followScrew(2 + 1 / 8, 0)).toEqual({ whole: 2, end: 1 / 8, past: null });
    expect(followScrew(1, 0)).toEqual({ whole: 1, end: 0, past: null });
  });

  it('goes past the end only where it comes back clockwise', () => {
    expect(followScrew(-1 / 4, 1 / 16)).toEqual({ whole: 0, end: -1 / 4, past: -5 / 16 });
    expect(followScrew(1 / 4, 1 / 16).past).toBeNull();
    expect(followScrew(-1 / 4, 0).past).toBeNull();
  });
});

it.each([0.05, 0.1, 0.25, 0.4, 1, 3, 12, 40])('a protractor on which %f degrees can be seen', (degrees) => {
  const { span_deg, magnification } = chooseProtractor(-degrees);
  expect(degrees / span_deg).toBeLessThanOrEqual(0.75);
  expect(degrees / span_deg).toBeGreaterThan(0.29);
  expect(span_deg * magnification).toBeCloseTo(30, 9);
});
