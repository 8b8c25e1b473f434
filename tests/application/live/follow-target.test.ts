import { describe, expect, it } from 'vitest';
import { TargetFollower } from '../../../src/application/live/follow-target.ts';
import { expandLuma } from '../../../src/imaging/exposure.ts';
import type { Pixels } from '../../../src/imaging/pixels.ts';
import { distort } from '../../../src/kernel/view.ts';
import { transfer } from '../../../src/kernel/homography.ts';
import { layoutChart } from '../../../src/target/chart.ts';
import { distortPoint } from '../../../src/scene/camera.ts';
import { exposureForPeak } from '../../../src/scene/place-camera.ts';
import { renderLayers } from '../../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE, plainShot } from '../../../src/scene/scene.ts';
import { type FrameOrder, filmFrame, standVideoCamera, type Stage } from '../../interface/simulated-camera.ts';
import { SIZE, stageOf, THROUGH } from './filmed.ts';

const chart = layoutChart();
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

  /** Farther apart than a crossing reaches: as a polarizer is turned to its null, while the pictures are not aligned yet. */
  it('measures a ghost down to a thousandth where it knows from a stronger one how the pictures lie apart', () => {
    const { projector } = MERIDIAN_SCENE;
    const misalignment = { ...projector.misalignment, verticalOffset: 0.05 };
    const scene = { ...MERIDIAN_SCENE, projector: { ...projector, misalignment } };
    const shot = { ...plainShot('left', camera), exposure: 1 };
    const layers = renderLayers(scene, shot);
    const apart: Stage = {
      ...SIZE,
      left: layers.left.data,
      right: layers.right.data,
      background: layers.background.data,
      exposure: exposureForPeak(scene, shot, 1),
      truth: layers.truth,
    };
    const filmApart = (leak: number, seed: number): Pixels => {
      const data = new Uint8Array(SIZE.width * SIZE.height);
      expandLuma(filmFrame(apart, { left: 0.7, right: 0.7 * leak, seed }), 'video', data);
      return { ...SIZE, channels: 1, data };
    };
    const leakSeen = (follower: TargetFollower, leak: number, at_ms: number) => {
      const seen = follower.look(filmApart(leak, at_ms + 1), at_ms);
      return seen.outcome === 'seen' ? seen.leak : undefined;
    };
    expect(leakSeen(new TargetFollower(chart), 0.012, 0)).toBeNull();
    const follower = new TargetFollower(chart);
    for (const [i, leak] of [0.3, 0.1, 0.03, 0.012].entries()) {
      expect(Math.abs(leakSeen(follower, leak, 2000 * i)! - leak)).toBeLessThan(0.1 * leak + 0.001);
    }
    // Below what any single mark shows, too, and after it went out altogether.
    for (const [i, leak] of [0.004, 0.002, 0, 0.012].entries()) {
      expect(Math.abs(leakSeen(follower, leak, 10_000 + 2000 * i)! - leak)).toBeLessThan(0.1 * leak + 0.001);
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
