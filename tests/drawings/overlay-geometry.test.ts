import { describe, expect, it } from 'vitest';
import {
  longestDisplacement,
  makeArrow,
  outlinePicture,
  outlineStray,
  pixelsPerPercent,
  viewOf,
} from '../../src/drawings/overlay-geometry.ts';
import { project } from '../../src/kernel/view.ts';
import { sampleReading } from '../report/sample-reading.ts';

const { evidence } = sampleReading;
const left = viewOf(evidence, 'left');

describe('an arrow', () => {
  it('stands at the point that the reading gives and points to where the right-eye picture lies', () => {
    const point = evidence.field[0]!;
    const { foot, tip } = makeArrow(point, { ...left, lens: { ...left.lens, k1: 0, k2: 0 } }, 50);
    expect([foot.x, foot.y]).toEqual([...point.photo_px]);
    // 1400 px to the picture height, seen straight: y up in the picture is y down in the photograph.
    expect(tip.x - foot.x).toBeCloseTo(14 * 50 * point.dx_pct, 6);
    expect(tip.y - foot.y).toBeCloseTo(-14 * 50 * point.dy_pct, 6);
  });

  it('is bent by the camera lens like the picture', () => {
    const bent = { ...left, lens: { ...left.lens, k1: 0.2 } };
    const point = evidence.field[0]!;
    const straight = makeArrow(point, left, 50);
    const { foot, tip } = makeArrow(point, bent, 50);
    expect(Math.hypot(tip.x - foot.x, tip.y - foot.y)).toBeGreaterThan(
      1.05 * Math.hypot(straight.tip.x - straight.foot.x, straight.tip.y - straight.foot.y),
    );
  });
});

it('knows the longest displacement and the size of the picture', () => {
  const brute = Math.max(...evidence.field.map(({ dx_pct, dy_pct }) => Math.hypot(dx_pct, dy_pct)));
  expect(longestDisplacement(evidence.field)).toBe(brute);
  expect(pixelsPerPercent(sampleReading)).toBeCloseTo(14, 9);
});

it('draws the border of the picture through its four corners', () => {
  const outline = outlinePicture(left, 2.35);
  const corner = project(left, { x: 2.35 / 2, y: -0.5 });
  expect(outline).toHaveLength(64);
  expect(Math.min(...outline.map((p) => Math.hypot(p.x - corner.x, p.y - corner.y)))).toBeLessThan(1e-9);
});

describe('outlineStray', () => {
  it('is the border of that eye’s picture, moved as the copy is, y upwards', () => {
    const stray = {
      eye: 'right',
      shot: 'right-lens',
      offset_ih: [0.02, 0.1],
      u_ih: [0.001, 0.001],
      strength_pct: { value: 0.84, u: 0.1 },
      side: 'above',
      beyond_ih: 0.1,
      over_ih: 0.9,
      marks: 20,
    } as const;
    const { eye, outline, corner, words } = outlineStray(stray, sampleReading);
    expect(eye).toBe('right');
    expect(outline).toHaveLength(64);
    expect(corner).toBe(outline[0]);
    const { aspect } = sampleReading.house;
    const view = viewOf(sampleReading.evidence, 'right');
    expect(corner).toEqual(project(view, { x: -aspect / 2 + 0.02, y: 0.5 + 0.1 }));
    // The photograph's y runs downwards.
    expect(corner.y).toBeLessThan(project(view, { x: -aspect / 2, y: 0.5 }).y - 130);
    expect(words).toBe('copy, 0.84 %');
  });
});
