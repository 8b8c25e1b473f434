import { describe, expect, it } from 'vitest';
import { depthBehindCut, passedByCut, passedByHead, reachOfHead } from '../../src/scene/obstacles.ts';

describe('cuts', () => {
  const top = { eye: 'both' as const, normal_deg: 90, distance_ih: 0.4, softness_ih: 0.02 };
  it('leave the light before the edge, take it behind, half of it on the edge', () => {
    expect(depthBehindCut(top, { x: 0.7, y: 0.45 })).toBeCloseTo(0.05, 14);
    expect(passedByCut(top, depthBehindCut(top, { x: 0.7, y: 0.38 }))).toBe(1);
    expect(passedByCut(top, depthBehindCut(top, { x: 0.7, y: 0.42 }))).toBe(0);
    expect(passedByCut(top, depthBehindCut(top, { x: 0.7, y: 0.4 }))).toBeCloseTo(0.5, 12);
  });
});

describe('heads', () => {
  const photo = { width: 1000, height: 800 };
  const head = { centre: { x: 0.5, y: 0.7 }, width: 0.1 };
  it('are dark inside and on the shoulders, and clear beside and above', () => {
    expect(passedByHead(head, photo, { x: 500, y: 560 })).toBe(0);
    expect(passedByHead(head, photo, { x: 500, y: 790 })).toBe(0);
    expect(passedByHead(head, photo, { x: 400, y: 560 })).toBe(1);
    expect(passedByHead(head, photo, { x: 500, y: 480 })).toBe(1);
  });
  it('take no light outside their reach', () => {
    const { left, right, top } = reachOfHead(head, photo);
    for (let y = 0; y < 800; y += 3) {
      for (let x = 0; x < 1000; x += 3) {
        if (x >= left && x <= right && y >= top) continue;
        expect(passedByHead(head, photo, { x, y })).toBe(1);
      }
    }
  });
});
