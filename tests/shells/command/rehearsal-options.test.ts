import { Command, Option } from 'commander';
import { describe, expect, it } from 'vitest';
import { FAULTS } from '../../../src/scene/fault-names.ts';
import { FURTHER_KINDS } from '../../../src/scene/further-photographs.ts';
import { SERIES_ROLES } from '../../../src/scene/photograph-series.ts';
import { DIFFICULTIES } from '../../../src/scene/random-scene.ts';
import { CAMERA_KINDS, LENS_KINDS, TEXTURE_KINDS } from '../../../src/scene/rehearsal-conditions.ts';
import { setUpRehearsal } from '../../../src/scene/rehearsal-set.ts';
import { UsageError } from '../../../src/shells/command/exit-status.ts';
import {
  CAMERA_WORDS,
  DIFFICULTY_WORDS,
  FURTHER_WORDS,
  type GivenRehearsalOptions,
  LENS_WORDS,
  REHEARSAL_OPTIONS,
  SERIES_WORDS,
  TEXTURE_WORDS,
  wishOf,
} from '../../../src/shells/command/rehearsal-options.ts';

/** Every option with a value of its own, as the parser would give it back. */
const everything: Required<GivenRehearsalOptions> = {
  aligned: true,
  vertical: 0.11,
  horizontal: 0.12,
  rotation: 0.13,
  size: 0.14,
  stretch: 0.15,
  shear: 0.16,
  keystoneH: 0.17,
  keystoneV: 0.18,
  polarizers: 'exchanged',
  polarizerLeft: 1,
  polarizerRight: 2,
  leakLeft: 3,
  leakRight: 4,
  depolarization: 1.5,
  balance: 0.9,
  fault: ['path-lengths-differ'],
  with: ['heads', 'corner'],
  blur: 1.1,
  shake: 1.2,
  cameraMove: 1.3,
  weave: 0.05,
  bare: 2,
  order: ['left', 'right', 'right', 'left'],
  filmMotion: 5,
  still: false,
  exposureFrames: 12,
  cameraAside: 14,
  curve: 2.5,
  distortion: 0.1,
  wedge: 1.5,
  wavy: 0.1,
  printErrors: 0.005,
  camera: 'phone',
  lens: 'moustache',
  texture: ['perforated', 'seamed'],
  grain: 4,
  bands: 8,
  softLeft: 0.05,
  softRight: 0.1,
  width: 900,
  quality: 77,
};

describe('REHEARSAL_OPTIONS', () => {
  it('are the ones that wishOf understands, no more and no fewer', () => {
    const names = REHEARSAL_OPTIONS.map(({ flags }) => new Option(flags).attributeName());
    expect(names.sort()).toEqual(Object.keys(everything).sort());
  });
  it('are accepted by the argument parser', () => {
    const command = new Command();
    for (const { flags } of REHEARSAL_OPTIONS) command.option(flags);
    command.parse(['--vertical', '-0.4', '--keystone-h', '0.2', '--with', 'heads', 'corner', '--aligned'], {
      from: 'user',
    });
    expect(command.opts()).toEqual({ vertical: '-0.4', keystoneH: '0.2', with: ['heads', 'corner'], aligned: true });
  });
  it('name every fault of the scene', () => expect([...FAULTS].sort()).toEqual([...FAULTS].sort()));
  it('name all roles of a series, all kinds of cameras, lenses and screens', () => {
    expect(SERIES_WORDS).toEqual(SERIES_ROLES);
    expect(CAMERA_WORDS).toEqual(CAMERA_KINDS);
    expect(LENS_WORDS).toEqual(LENS_KINDS);
    expect(TEXTURE_WORDS).toEqual(TEXTURE_KINDS);
  });
  it('name all photographs beside the pair', () => expect(FURTHER_WORDS).toEqual(FURTHER_KINDS));
  it('name every difficulty of the scene', () => expect(DIFFICULTY_WORDS).toHaveLength(DIFFICULTIES.length));
});

describe('wishOf', () => {
  it('every option reaches the scene', () => {
    const { scene, shots, jpegQuality, faults } = setUpRehearsal(1, wishOf(everything));
    const { misalignment: m } = setUpRehearsal(1, wishOf({ ...everything, fault: [] })).scene.projector;
    expect(faults).toContain('path-lengths-differ');
    expect(Math.abs(scene.projector.misalignment.size - m.size)).toBeGreaterThan(0.005);
    expect([m.verticalOffset, m.horizontalOffset, m.size, m.stretch, m.shear, m.keystoneH, m.keystoneV]).toEqual(
      [0.11, 0.12, 0.14, 0.15, 0.16, 0.17, 0.18].map((pct) => expect.closeTo(pct / 100, 12)),
    );
    expect((m.rotation * 180) / Math.PI).toBeCloseTo(0.13, 12);
    expect(scene.polarization).toMatchObject({
      exchanged: true,
      fitted: true,
      pictureError_deg: { left: 1, right: 2 },
      depolarization: 0.015,
    });
    expect(scene.polarization.lensError_deg.right).toBeGreaterThan(scene.polarization.lensError_deg.left);
    expect(scene.brightness.right).toBe(0.9);
    expect(scene.cuts).toHaveLength(1);
    expect(shots.left.heads.length).toBeGreaterThan(1);
    expect(shots.left).toMatchObject({ defocus_px: 1.1, motion: { length_px: 1.2 } });
    expect(shots.right.camera.lookAt_ih).not.toEqual(shots.left.camera.lookAt_ih);
    expect(shots.left.weave_ih.x).not.toBe(0);
    expect([shots.left.camera.width_px, shots.left.camera.height_px]).toEqual([900, 675]);
    expect(jpegQuality).toBe(77);
    expect(scene).toMatchObject({
      screenRadius_ih: 2.5 * 2.35,
      projectionLens: { distortion_pct: { left: 0.1, right: 0.1 } },
      glasses: { left: { wave: { sigma_px: 0.1 } } },
      print: { mark_ih: 0.00005 },
    });
    expect(scene).toMatchObject({
      grain: 0.04,
      surface: { texture: { holes: { part: 0.045 }, seams: { depth: 0.15 } } },
      blur_ih: { left: 0.0005, right: 0.001 },
    });
    expect(shots.left.camera.distortion.k3).toBe(0.015);
    expect(shots.right).toMatchObject({ bands: { depth: 0.08, period_px: 135 }, processing: { mosaic: true } });
    expect(wishOf(everything)).toMatchObject({ bareCount: 2, filmMotion_um: 5, framesPerExposure: 12 });
  });
  it('without options leaves everything to the seed, on film that moves, with a photograph without glasses', () => {
    expect(wishOf({})).toMatchObject({ filmMotion_um: 5, bareCount: 1 });
    const { scene, shots } = setUpRehearsal(5);
    expect(setUpRehearsal(5, wishOf({}))).toMatchObject({ scene, shots });
    expect(setUpRehearsal(5, wishOf({ still: true, bare: 0 }))).toEqual(setUpRehearsal(5));
    expect(() => wishOf({ still: true, filmMotion: 5 })).toThrow('--still');
  });
  it.each([
    { width: 100 },
    { quality: 0 },
    { balance: 0 },
    { vertical: 50 },
    { keystoneV: -30 },
    { blur: -1 },
    { depolarization: 101 },
    { grain: 60 },
    { softLeft: -1 },
  ])('refuses %o', (given) => expect(() => wishOf(given)).toThrow(UsageError));
  it('names the option as it is typed', () => expect(() => wishOf({ keystoneH: 30 })).toThrow('--keystone-h'));
});
