import { describe, expect, it } from 'vitest';
import { TargetFollower } from '../../../src/application/live/follow-target.ts';
import { measureFrame } from '../../../src/application/live/measure-frame.ts';
import { TERMS } from '../../../src/geometry/misalignment.ts';
import { expandLuma } from '../../../src/imaging/exposure.ts';
import { elementAt } from '../../../src/kernel/linear-algebra.ts';
import { layoutChart } from '../../../src/target/chart.ts';
import { misalignmentTruth } from '../../../src/scene/truth.ts';
import { filmFrame, FILMED_SCENE } from '../../interface/simulated-camera.ts';
import { FRAME_MS, stageOf, THROUGH } from './filmed.ts';

const { aspect } = FILMED_SCENE;
const stage = stageOf();
const { terms: truth } = misalignmentTruth(stage.truth.photoFromChart.left, stage.truth.photoFromChart.right, aspect);

function measureAll(frames: number, shiftOf: (i: number) => { x: number; y: number }) {
  const follower = new TargetFollower(layoutChart(aspect));
  return Array.from({ length: frames }, (_, i) => {
    const luma = filmFrame(stage, { ...THROUGH.bare, shift: shiftOf(i), seed: i + 1 });
    const data = new Uint8Array(luma.length);
    expandLuma(luma, 'video', data);
    const target = follower.look({ width: stage.width, height: stage.height, channels: 1, data }, i * FRAME_MS);
    if (target.outcome !== 'seen') throw new Error(target.code);
    const measured = measureFrame(target, aspect);
    if (!measured) throw new Error('not measured');
    return measured;
  });
}

describe('the misalignment of a frame', () => {
  const still = measureAll(8, () => ({ x: 0, y: 0 }));
  const weaving = measureAll(8, (i) => ({ x: 0.7 * (i % 3), y: -0.9 * (i % 2) }));

  it.each(TERMS.map((term, k) => [term, k] as const))('%s is that of the scene', (term, k) => {
    const u = Math.sqrt(elementAt(still[0]!.covariance, k, k));
    const mean = still.reduce((sum, { terms }) => sum + terms[term], 0) / still.length;
    expect(u).toBeLessThan(1e-4);
    expect(Math.abs(mean - truth[term])).toBeLessThan(5 * u);
  });

  it.each(TERMS.map((term, k) => [term, k] as const))('%s takes no part in film that moves', (term, k) => {
    const u = Math.sqrt(elementAt(still[0]!.covariance, k, k));
    for (const [i, { terms }] of weaving.entries())
      expect(Math.abs(terms[term] - still[i]!.terms[term])).toBeLessThan(6 * u);
  });

  it('knows how far film and camera moved', () => {
    const [first, second] = weaving as [(typeof weaving)[number], (typeof weaving)[number]];
    const ih_px = 520;
    expect((second.middle.x - first.middle.x) * ih_px).toBeCloseTo(0.7, 1);
    expect((second.middle.y - first.middle.y) * ih_px).toBeCloseTo(0.9, 1);
  });
});
