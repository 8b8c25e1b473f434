import { describe, expect, it } from 'vitest';
import { motionOf, planRehearsalSeries } from '../../src/scene/rehearsal-conditions.ts';
import { setUpRehearsal } from '../../src/scene/rehearsal-set.ts';
import { renderLayers } from '../../src/scene/render-shot.ts';
import { recordTruth } from '../../src/scene/truth-record.ts';

const photo = { width_px: 900, height_px: 600 };
const aligned = { start: 'aligned', photo } as const;
const files = { left: 'left-lens.jpg', right: 'right-lens.jpg' };

describe('a rehearsal without conditions', () => {
  it('is the same as ever: still film, plane screen, no series', () => {
    const set = setUpRehearsal(3, aligned);
    expect(planRehearsalSeries(set, {})).toBeUndefined();
    const truth = recordTruth(set, files);
    expect(Object.keys(truth)).not.toContain('series');
    expect(Object.keys(truth.misalignment)).not.toContain('remainder_pct');
    for (const key of ['film', 'screenRadius_ih', 'projectionLens', 'glasses', 'print'])
      expect(set.scene).not.toHaveProperty(key);
  });
});

describe('a rehearsal with conditions', () => {
  it('has bare photographs after the pair, or what an order says, and the film elsewhere in each', () => {
    const options = { ...aligned, bareCount: 2, filmMotion_um: 5 };
    const set = setUpRehearsal(3, options);
    const series = planRehearsalSeries(set, options)!;
    expect(series.map(({ role }) => role)).toEqual(['left', 'right', 'bare', 'bare']);
    const { series: listed } = recordTruth(set, files, undefined, series);
    expect(new Set(listed!.map(({ film_place }) => film_place.left.y_ih)).size).toBe(4);
    expect(listed!.map(({ file }) => file)).toEqual(['left-lens.jpg', 'right-lens.jpg', 'bare.jpg', 'bare-2.jpg']);
    const order = ['bare', 'right', 'left', 'left', 'right'] as const;
    expect(planRehearsalSeries(set, { order })!.map(({ role }) => role)).toEqual(order);
    expect(() => planRehearsalSeries(set, { order: ['left', 'bare'] })).toThrow(RangeError);
  });
  it('turns the film as its shift at one of two guides would', () => {
    expect(motionOf(0)).toBeUndefined();
    const { jump_mm, weave_mm, turn_deg } = motionOf(5)!;
    expect([jump_mm, weave_mm]).toEqual([0.005, 0.005]);
    expect((turn_deg! * Math.PI) / 180).toBeCloseTo(Math.hypot(0.005, 0.005) / 19, 12);
  });
  it('keeps what was asked for, moved by what the lens does to the two pictures', () => {
    const asked = { ...aligned, vertical_pct: 0.3 };
    const exact = (options: Parameters<typeof setUpRehearsal>[1]) =>
      recordTruth(setUpRehearsal(3, options), files).misalignment;
    expect(
      exact({ ...asked, curve_widths: 2, wedge_px: 3, printErrors_pct: 0.01 }).vertical_offset_pct.value,
    ).toBeCloseTo(0.3, 4);
    const bent = exact({ ...asked, distortion_pct: 0.1 });
    // 2 k a (mean of x^2 + 3 y^2 + a^2) is more than at the middle, 0.0126 %.
    expect(bent.vertical_offset_pct.value - 0.3).toBeGreaterThan(0.0126);
    expect(bent.remainder_pct!.value).toBeGreaterThan(0.01);
  });
  it('uses the house’s film: a picture less tall moves by a larger part of its height', () => {
    const facts = { aspect: 2.35, pictureWidth_m: 10, throw_m: 27, cameraDistance_m: 15 };
    const film = { centreToCentre_in: 0.363, pictureHeight_in: 0.3, upperPortShows: 'left' } as const;
    const { scene } = setUpRehearsal(3, { ...aligned, filmMotion_um: 5 }, { ...facts, film });
    expect(scene.film!.pictureHeight_mm).toBeCloseTo(7.62, 9);
    expect(scene.film!.centreToCentre_mm).toBeCloseTo(9.2202, 9);
    expect(scene.film!.upperPortShows).toBe('left');
  });
  it('takes one picture out of focus and leaves the other, and bends by the lens that was asked for', () => {
    const soft = setUpRehearsal(3, { ...aligned, soft_pct: { right: 0.3 }, lens: 'decentred' });
    expect(soft.scene.blur_ih).toEqual({ left: 0, right: 0.003 });
    expect(soft.shots.left.camera.distortion.decentring).toEqual([3e-4, -2e-4]);
    const { left, right } = renderLayers(soft.scene, soft.shots.left);
    const steepest = ({ data }: { readonly data: Float32Array }) =>
      data.reduce((most, light, i) => Math.max(most, Math.abs(light - (data[i - 1] ?? light))), 0);
    expect(steepest(right)).toBeLessThan(0.7 * steepest(left));
    const sharp = setUpRehearsal(3, aligned);
    expect(sharp.scene).not.toHaveProperty('blur_ih');
  });
  it('puts the camera aside, and processes what it takes', () => {
    const { shots } = setUpRehearsal(3, { ...aligned, cameraAside_deg: 15, camera: 'phone' });
    const { x, y, z } = shots.left.camera.position_ih;
    expect(Math.atan2(x, z)).toBeCloseTo((15 * Math.PI) / 180, 9);
    expect(Math.hypot(x, y, z)).toBeGreaterThan(1);
    expect(shots.right.processing).toMatchObject({ mosaic: true });
  });
});
