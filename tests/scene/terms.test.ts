import { describe, expect, it } from 'vitest';
import { transfer } from '../../src/kernel/homography.ts';
import { displacement, NO_MISALIGNMENT, SCENE_TERMS, type SceneTerms, scaleTerms } from '../../src/scene/terms.ts';

const only = (term: keyof SceneTerms, value: number) => displacement({ ...NO_MISALIGNMENT, [term]: value });
const moved = (term: keyof SceneTerms, value: number, x: number, y: number) => {
  const p = transfer(only(term, value), { x, y });
  return { x: p.x - x, y: p.y - y };
};

describe('displacement has the signs of conventions', () => {
  it('positive vertical offset: higher', () => expect(moved('verticalOffset', 0.01, 0.3, 0.2).y).toBeCloseTo(0.01, 15));
  it('positive horizontal offset: further right', () =>
    expect(moved('horizontalOffset', 0.01, 0.3, 0.2).x).toBeCloseTo(0.01, 15));
  it('positive rotation: counter-clockwise, the right side goes up and the top goes left', () => {
    expect(moved('rotation', 0.01, 1, 0).y).toBeGreaterThan(0.0099);
    expect(moved('rotation', 0.01, 0, 0.5).x).toBeLessThan(-0.0049);
  });
  it('rotation keeps lengths', () => {
    const p = transfer(only('rotation', 0.3), { x: 0.6, y: -0.4 });
    expect(Math.hypot(p.x, p.y)).toBeCloseTo(Math.hypot(0.6, 0.4), 14);
  });
  it('positive size: larger', () =>
    expect(moved('size', 0.01, 0.5, -0.5)).toEqual({ x: expect.closeTo(0.005, 14), y: expect.closeTo(-0.005, 14) }));
  it('positive stretch: wider and less tall', () => {
    expect(moved('stretch', 0.01, 1, 0.5).x).toBeCloseTo(0.01, 15);
    expect(moved('stretch', 0.01, 1, 0.5).y).toBeCloseTo(-0.005, 15);
  });
  it('positive shear: drawn out along the rising diagonal', () => {
    const d = moved('shear', 0.01, 0.5, 0.5);
    expect(d.x).toBeCloseTo(0.005, 15);
    expect(d.y).toBeCloseTo(0.005, 15);
  });
  it('positive horizontal keystone: larger on the right side', () => {
    expect(moved('keystoneH', 0.001, 1, 0.5).y).toBeCloseTo(0.0005, 5);
    expect(moved('keystoneH', 0.001, -1, 0.5).y).toBeCloseTo(-0.0005, 5);
  });
  it('positive vertical keystone: larger at the top', () => {
    expect(moved('keystoneV', 0.001, 1, 0.5).x).toBeCloseTo(0.0005, 5);
    expect(moved('keystoneV', 0.001, 1, -0.5).x).toBeCloseTo(-0.0005, 5);
  });
});

describe('displacement follows the field of the eight terms', () => {
  it('to second order in the terms', () => {
    const full = Object.fromEntries(SCENE_TERMS.map((t, i) => [t, 0.01 * (i % 2 ? -1 : 1)])) as SceneTerms;
    const residual = (factor: number) => {
      const t = scaleTerms(full, factor);
      const [x, y] = [0.9, -0.35];
      const p = transfer(displacement(t), { x, y });
      const dx =
        t.horizontalOffset -
        t.rotation * y +
        (t.size + t.stretch) * x +
        t.shear * y +
        (t.keystoneH * x + t.keystoneV * y) * x;
      const dy =
        t.verticalOffset +
        t.rotation * x +
        (t.size - t.stretch) * y +
        t.shear * x +
        (t.keystoneH * x + t.keystoneV * y) * y;
      return Math.hypot(p.x - x - dx, p.y - y - dy);
    };
    expect(residual(1)).toBeGreaterThan(1e-6);
    // A hundredth of the terms leaves a ten-thousandth of the difference.
    expect(residual(0.01) / residual(1)).toBeLessThan(1.5e-4);
  });
});
