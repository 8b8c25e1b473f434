import { describe, expect, it } from 'vitest';
import { boundsOf, pictureCorners } from '../../src/scene/place-camera.ts';
import { DIFFICULTIES, randomScene } from '../../src/scene/random-scene.ts';
import { recordTruth } from '../../src/scene/truth-record.ts';

const seeds = Array.from({ length: 60 }, (_, i) => i + 1);
const files = { left: 'left-lens.jpg', right: 'right-lens.jpg' };

describe('randomScene', () => {
  it('same seed, same scene; other seed, other scene', () => {
    expect(randomScene(5, 'judge')).toEqual(randomScene(5, 'judge'));
    expect(randomScene(5, 'judge').scene).not.toEqual(randomScene(6, 'judge').scene);
  });

  it.each(['judge', 'hard'] as const)('%s: the whole picture is in the photo', (kind) => {
    for (const seed of seeds) {
      const { scene, shots } = randomScene(seed, kind);
      const { left, right, top, bottom } = boundsOf(pictureCorners(scene.projector, scene.aspect, shots.left.camera));
      expect(left).toBeGreaterThan(100);
      expect(right).toBeLessThan(3900);
      expect(top).toBeGreaterThan(100);
      expect(bottom).toBeLessThan(2900);
      expect((right - left) / 4000).toBeGreaterThan(0.69);
      expect((right - left) / 4000).toBeLessThan(0.86);
    }
  });

  it('judge: leaks of 0.2 to 5 % on the right eyes, offsets up to 1.2 %', () => {
    for (const seed of seeds) {
      const { eyes, misalignment } = recordTruth(randomScene(seed, 'judge'), files);
      expect(eyes.assignment).toBe('correct');
      for (const { value } of [eyes.crosstalk_left_pct, eyes.crosstalk_right_pct]) {
        // The balance of the pictures comes on top.
        expect(value).toBeGreaterThan(0.2 * 0.87);
        expect(value).toBeLessThan(5 / 0.87);
      }
      expect(Math.abs(misalignment.vertical_offset_pct.value)).toBeLessThan(1.21);
      expect(Math.abs(misalignment.rotation_deg.value)).toBeLessThan(0.41);
    }
  });

  it('hard: one to three difficulties each, and every one of them occurs', () => {
    const seen = new Set<string>();
    for (const seed of seeds) {
      const difficulties = randomScene(seed, 'hard').faults;
      expect(difficulties.length).toBeGreaterThanOrEqual(1);
      expect(difficulties.length).toBeLessThanOrEqual(3);
      for (const d of difficulties) seen.add(d);
    }
    expect([...seen].sort()).toEqual([...DIFFICULTIES].sort());
  });
});
