import { describe, expect, it } from 'vitest';
import { transfer } from '../../src/kernel/homography.ts';
import { setUpRehearsal } from '../../src/scene/rehearsal-set.ts';
import { shotTruth } from '../../src/scene/render-shot.ts';
import { recordTruth } from '../../src/scene/truth-record.ts';

const files = { left: 'l', right: 'r' };
const truthOf = (...order: Parameters<typeof setUpRehearsal>) => recordTruth(setUpRehearsal(...order), files);

describe('setUpRehearsal', () => {
  it('same seed and options, same set', () => {
    expect(setUpRehearsal(3, { vertical_pct: 0.4 })).toEqual(setUpRehearsal(3, { vertical_pct: 0.4 }));
  });

  it('an aligned start has what is asked for and nothing else', () => {
    const { requested, misalignment, eyes } = truthOf(3, { start: 'aligned', vertical_pct: 0.4 });
    expect(requested).toEqual({
      vertical_offset_pct: 0.4,
      horizontal_offset_pct: 0,
      rotation_deg: 0,
      size_pct: 0,
      stretch_pct: 0,
      shear_pct: 0,
      keystone_h_pct: 0,
      keystone_v_pct: 0,
    });
    expect(misalignment.vertical_offset_pct.value).toBeCloseTo(0.4, 3);
    expect(eyes.assignment).toBe('correct');
    expect(eyes.crosstalk_left_pct.value).toBeLessThan(0.2);
  });

  it('an option changes its own term of a drawn set only', () => {
    const drawn = truthOf(3).requested;
    const wished = truthOf(3, { rotation_deg: -0.3 }).requested;
    expect(wished).toEqual({ ...drawn, rotation_deg: expect.closeTo(-0.3, 12) });
    expect(drawn.rotation_deg).not.toBeCloseTo(-0.3, 3);
  });

  it('leaks, exchanged and missing polarizers show in the truth', () => {
    const leaky = truthOf(3, { start: 'aligned', leak_pct: { left: 3, right: 0.5 } }).eyes;
    expect(leaky.crosstalk_left_pct.value).toBeCloseTo(3, 9);
    expect(leaky.crosstalk_right_pct.value).toBeCloseTo(0.5, 9);
    expect(truthOf(3, { polarizers: 'exchanged' }).eyes.assignment).toBe('swapped');
    expect(truthOf(3, { start: 'aligned', polarizers: 'missing' }).eyes.crosstalk_left_pct.value).toBeCloseTo(100, 9);
    // Malus: a picture's polarizer turned by 12 degrees leaks tan^2 through the other lens, beside the floor. COMPUTED
    const turned = truthOf(3, { start: 'aligned', polarizerError_deg: { right: 12 } }).eyes;
    expect(turned.crosstalk_left_pct.value).toBeGreaterThan(100 * Math.sin((12 * Math.PI) / 180) ** 2);
    expect(turned.crosstalk_right_pct.value).toBeLessThan(0.3);
  });

  it('refuses a leak that no polarizer has', () => {
    expect(() => setUpRehearsal(1, { leak_pct: { left: 0.001 } })).toThrow(RangeError);
    expect(() => setUpRehearsal(1, { leak_pct: { left: 1 }, polarizers: 'missing' })).toThrow(RangeError);
  });

  it('is built on the facts of a house', () => {
    const { scene, shots } = setUpRehearsal(
      2,
      {},
      { aspect: 1.85, pictureWidth_m: 9.25, throw_m: 20, cameraDistance_m: 10 },
    );
    expect(scene.aspect).toBe(1.85);
    expect(scene.projector.throw_ih).toBeCloseTo(4, 12);
    const { x, y, z } = shots.left.camera.position_ih;
    expect(Math.hypot(x, y, z)).toBeCloseTo(2, 12);
  });

  it('a touched camera moves the second photograph to the right', () => {
    const { scene, shots } = setUpRehearsal(2, { cameraMove_px: 7 });
    const [left, right] = [shots.left, shots.right].map((shot) =>
      transfer(shotTruth(scene, shot).photoFromChart.left, { x: 0, y: 0 }),
    );
    expect(right.x - left.x).toBeCloseTo(7, 1);
  });

  it('film weave differs between the shots and is no misalignment', () => {
    const weaving = setUpRehearsal(2, { weave_pct: 0.1 });
    expect(weaving.shots.left.weave_ih).not.toEqual(weaving.shots.right.weave_ih);
    expect(recordTruth(weaving, files).misalignment).toEqual(truthOf(2).misalignment);
  });
});
