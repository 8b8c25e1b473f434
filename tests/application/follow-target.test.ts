import { describe, expect, it } from 'vitest';
import { TargetFollower } from '../../src/application/follow-target.ts';
import { expandLuma } from '../../src/imaging/luma-range.ts';
import type { Pixels } from '../../src/imaging/pixels.ts';
import { distort } from '../../src/kernel/view.ts';
import { transfer } from '../../src/kernel/homography.ts';
import { layOutChart } from '../../src/target/chart.ts';
import { distortPoint } from '../../src/scene/camera.ts';
import { type FrameOrder, filmFrame, standVideoCamera } from '../interface/simulated-camera.ts';
import { SIZE, stageOf, THROUGH } from './filmed.ts';

const chart = layOutChart();
const stage = stageOf();
const camera = standVideoCamera(SIZE.width, SIZE.height);

function film(order: FrameOrder): Pixels {
  const luma = filmFrame(stage, order);
  const data = new Uint8Array(luma.length);
  expandLuma(luma, 'video', data);
  return { width: SIZE.width, height: SIZE.height, channels: 1, data };
}

describe('a follower', () => {
  it.each(['left', 'right'] as const)('has the %s eye’s marks where the scene has them', (eye) => {
    const follower = new TargetFollower(chart);
    const seen = follower.look(film({ ...THROUGH[eye], seed: 1 }), 0);
    if (seen.outcome !== 'seen') throw new Error(seen.code);
    expect(seen.eye).toBe(eye);
    const errors = seen.marks[eye].map(({ mark, centre }) => {
      const truth = distortPoint(camera, transfer(stage.truth.photoFromChart[eye], mark));
      return { x: centre.x - truth.x, y: centre.y - truth.y };
    });
    const rms = Math.sqrt(errors.reduce((sum, { x, y }) => sum + x * x + y * y, 0) / errors.length);
    const mean = errors.reduce((sum, { y }) => sum + y, 0) / errors.length;
    expect(errors.length).toBeGreaterThanOrEqual(46);
    expect(rms).toBeLessThan(0.15);
    expect(Math.abs(mean)).toBeLessThan(0.03);
  });

  /** Farther than a pixel the view would begin to use up the reach of following, which is some four pixels here. */
  it('keeps its view within a pixel of the picture over many small steps', () => {
    const follower = new TargetFollower(chart);
    let seen = follower.look(film({ ...THROUGH.left, seed: 1 }), 0);
    // All within the time of one whole look, so that nothing but following carries the view along.
    for (let i = 1; i <= 25; i++) {
      seen = follower.look(film({ ...THROUGH.left, shift: { x: 1.5 * i, y: -0.8 * i }, seed: i + 1 }), 40 * i);
    }
    if (seen.outcome !== 'seen') throw new Error(seen.code);
    const { view } = seen;
    for (const at of [
      { x: 0, y: 0 },
      { x: 1.1, y: 0.45 },
      { x: -1.1, y: -0.45 },
    ]) {
      const truth = distortPoint(camera, transfer(stage.truth.photoFromChart.left, at));
      const held = distort(view.lens, transfer(view.photoFromChart, at));
      expect(Math.hypot(held.x - truth.x - 37.5, held.y - truth.y + 20)).toBeLessThan(1);
    }
  });

  it('measures the blur as photographs are measured', () => {
    const follower = new TargetFollower(chart);
    const blurs = [1, 2, 3, 4].map((seed) => follower.look(film({ ...THROUGH.left, seed }), 40 * seed));
    for (const seen of blurs) {
      if (seen.outcome !== 'seen') throw new Error(seen.code);
      // 0.8 px of defocus and a pixel's own extent of 0.29 px.
      expect(seen.blur_px).toBeGreaterThan(0.75);
      expect(seen.blur_px).toBeLessThan(1.05);
    }
  });

  it('says why there is no target, and remembers nothing of it', () => {
    const follower = new TargetFollower(chart);
    follower.look(film({ ...THROUGH.left, seed: 1 }), 0);
    const grey: Pixels = {
      ...film({ ...THROUGH.cap, seed: 2 }),
      data: new Uint8Array(SIZE.width * SIZE.height).fill(70),
    };
    const lost = follower.look(grey, 40);
    expect(lost.outcome).toBe('unseen');
    expect(follower.look(film({ ...THROUGH.right, seed: 3 }), 80).outcome).toBe('seen');
  });
});
