import { describe, expect, it } from 'vitest';
import { randomScene } from '../../src/scene/random-scene.ts';
import type { SceneSet } from '../../src/scene/scene.ts';
import { recordTruth } from '../../src/scene/truth-record.ts';

const files = { left: 'left-lens.jpg', right: 'right-lens.jpg' };
const set = randomScene(11, 'judge');
const withPolarization = (change: Partial<SceneSet['scene']['polarization']>): SceneSet => ({
  ...set,
  scene: { ...set.scene, polarization: { ...set.scene.polarization, ...change } },
});

describe('recordTruth', () => {
  const record = recordTruth(set, files);

  it('survives JSON', () => {
    expect(JSON.parse(JSON.stringify(record))).toEqual(record);
    expect(record.schema).toBe('twinplumb.truth/1');
  });

  it('states the terms that the pictures have beside those asked for', () => {
    const { requested, misalignment } = record;
    expect(misalignment.vertical_offset_pct.value).toBeCloseTo(requested.vertical_offset_pct, 1);
    expect(misalignment.vertical_offset_pct.value).not.toBe(requested.vertical_offset_pct);
    expect(misalignment.rotation_deg.value).toBeCloseTo(requested.rotation_deg, 1);
    expect(requested.rotation_deg).toBeCloseTo((set.scene.projector.misalignment.rotation * 180) / Math.PI, 12);
  });

  it('film weave is no misalignment', () => {
    const weaving = { ...set, shots: { ...set.shots, left: { ...set.shots.left, weave_ih: { x: 0.002, y: 0.003 } } } };
    expect(recordTruth(weaving, files).misalignment).toEqual(record.misalignment);
  });

  it('says which eye each lens shows', () => {
    expect(record.eyes.assignment).toBe('correct');
    const exchanged = recordTruth(withPolarization({ exchanged: true }), files).eyes;
    expect(exchanged.assignment).toBe('swapped');
    // Crosstalk stays right-eye over left-eye picture through the left lens.
    expect(exchanged.crosstalk_left_pct.value).toBeGreaterThan(1500);
    const none = recordTruth(withPolarization({ fitted: false }), files).eyes;
    expect(none.assignment).toBe('undetermined');
    expect(none.crosstalk_left_pct.value * none.crosstalk_right_pct.value).toBeCloseTo(1e4, 6);
  });

  it('tells both shots with their file, their lens and their noise apart', () => {
    expect(record.shots.map((s) => [s.role, s.file])).toEqual([
      ['left-lens', 'left-lens.jpg'],
      ['right-lens', 'right-lens.jpg'],
    ]);
    expect(record.shots[0].noise_seed).not.toBe(record.shots[1].noise_seed);
    expect(record.shots[0].photo_from_chart).toEqual(record.shots[1].photo_from_chart);
  });
});
