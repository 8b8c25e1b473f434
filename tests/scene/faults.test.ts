import { describe, expect, it } from 'vitest';
import { transfer } from '../../src/kernel/homography.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { drawFault, type Fault, halfFrameOffset, plantFault } from '../../src/scene/faults.ts';
import { transmittance } from '../../src/scene/polarization.ts';
import { setUpRehearsal } from '../../src/scene/rehearsal-set.ts';
import { renderShot, shotTruth } from '../../src/scene/render-shot.ts';
import type { SceneSet } from '../../src/scene/scene.ts';
import { FAULTS, type FaultName } from '../../src/scene/fault-names.ts';

const photo = { width_px: 600, height_px: 450 };
const healthy = setUpRehearsal(5, { start: 'aligned', photo });
const planted = (name: FaultName, some: Partial<Fault> = {}) =>
  plantFault(healthy, { name, eye: 'right', size: 10, other: 0.5, ...some });
const leakThrough = ({ scene, shots }: SceneSet, lens: 'left' | 'right') => {
  const { strength } = shotTruth(scene, shots[lens]);
  return lens === 'left' ? strength.right / strength.left : strength.left / strength.right;
};

describe('planted faults', () => {
  it.each(FAULTS)('%s: drawn by the seed, named, and exposed without clipping', (name) => {
    const fault = drawFault(name, createRandom(3), 0.07);
    expect(drawFault(name, createRandom(3), 0.07)).toEqual(fault);
    const set = plantFault(healthy, fault);
    expect(set.faults).toContain(name);
    const lens = name === 'picture-missing' && fault.eye === 'left' ? 'right' : 'left';
    const { data } = renderShot(set.scene, set.shots[lens], 1).noiseFree;
    const peak = data.reduce((most, light) => Math.max(most, light), 0);
    expect(peak).toBeLessThan(1);
    expect(peak).toBeGreaterThan(0.2);
  });

  it("the right-eye picture's polarizer leaks through the left lens, tan^2-like, and hardly through its own", () => {
    const turned = planted('projector-polarizer-turned');
    expect(leakThrough(turned, 'left') - leakThrough(healthy, 'left')).toBeCloseTo(Math.sin(Math.PI / 18) ** 2, 3);
    expect(leakThrough(turned, 'right') / leakThrough(healthy, 'right')).toBeLessThan(1.1);
  });

  it('tilted glasses leak alike through both lenses', () => {
    const tilted = planted('glasses-tilted');
    expect(leakThrough(tilted, 'left')).toBeCloseTo(leakThrough(tilted, 'right'), 10);
    expect(leakThrough(tilted, 'left')).toBeGreaterThan(0.03);
  });

  it('a path that depolarizes leaks half of it through the other lens', () => {
    const { scene } = planted('one-path-depolarizes', { size: 0.2 });
    expect(transmittance(scene.polarization, 'right', 'left')).toBeCloseTo(0.1, 2);
    expect(transmittance(scene.polarization, 'left', 'right')).toBeLessThan(0.01);
  });

  it.each(['polarizers-missing', 'polarization-kinds-mixed', 'camera-filters-missing'] as const)(
    '%s: both pictures through both lenses',
    (name) => expect(leakThrough(planted(name), 'left')).toBeCloseTo(1, 10),
  );

  it.each(['polarizers-exchanged', 'camera-filters-exchanged', 'half-frame-threading'] as const)(
    '%s: the wrong picture is the strong one',
    (name) => expect(leakThrough(planted(name, { size: 0.05 }), 'left')).toBeGreaterThan(50),
  );

  it('half a frame moves the pictures apart', () => {
    const { misalignment } = planted('half-frame-threading', { size: 0.05 }).scene.projector;
    expect(misalignment.verticalOffset).toBeCloseTo(0.05, 12);
  });

  it('half a frame moves them by what the film says: (0.748 - 2 x 0.387) in over 0.351 in', () => {
    expect(halfFrameOffset({ centreToCentre_in: 0.387 }, 2.35)).toBeCloseTo(0.0741, 3);
    expect(halfFrameOffset({ centreToCentre_in: 0.387, upperPortShows: 'left' }, 2.35)).toBeCloseTo(-0.0741, 3);
  });

  it('film turned over mirrors both pictures', () => {
    const { scene, shots } = planted('film-turned-over');
    const { left } = shotTruth(scene, shots.left).photoFromChart;
    expect(transfer(left, { x: 0.5, y: 0 }).x).toBeLessThan(transfer(left, { x: -0.5, y: 0 }).x);
  });

  it('a stray copy lies above or below its picture, and only reaches over a part of it', () => {
    const { strays } = planted('stray-image', { size: 0.02 }).scene;
    expect(strays).toEqual([{ eye: 'right', offset_ih: { x: 0.025, y: expect.closeTo(0.75, 12) }, strength: 0.02 }]);
    expect(planted('stray-image', { other: -1 }).scene.strays![0]!.offset_ih.y).toBeCloseTo(-0.55, 12);
  });

  it('a missing picture gives no light', () => {
    const { scene, shots } = planted('picture-missing');
    expect(shotTruth(scene, shots.right).strength.right).toBe(0);
  });

  it('two faults are there together', () => {
    const both = plantFault(planted('glasses-tilted'), {
      name: 'polarizers-exchanged',
      eye: 'left',
      size: 1,
      other: 0,
    });
    expect(both.faults).toEqual(expect.arrayContaining(['glasses-tilted', 'polarizers-exchanged']));
    expect(both.scene.polarization).toMatchObject({ glassesTilt_deg: 10, exchanged: true });
  });
});
