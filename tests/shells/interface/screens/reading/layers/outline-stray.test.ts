import { describe, expect, it } from 'vitest';
import { project } from '../../../../../../src/kernel/view.ts';
import { viewOf } from '../../../../../../src/shells/interface/screens/reading/layers/displacement.ts';
import { outlineStray } from '../../../../../../src/shells/interface/screens/reading/layers/outline-stray.ts';
import { sampleReading } from '../../../../../report/sample-reading.ts';

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
