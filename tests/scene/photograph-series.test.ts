import { describe, expect, it } from 'vitest';
import { bareShot, planSeries, type SeriesPhotograph } from '../../src/scene/photograph-series.ts';
import { setUpRehearsal } from '../../src/scene/rehearsal-set.ts';
import { shotTruth } from '../../src/scene/render-shot.ts';
import { sceneMisalignmentTruth } from '../../src/scene/truth.ts';

const photo = { width_px: 900, height_px: 600 };
const set = setUpRehearsal(5, { vertical_pct: 0.3, photo });

describe('planSeries', () => {
  it('names photographs by their role and number, in the order of time, each with noise of its own', () => {
    const order = ['left', 'right', 'right', 'left', 'bare', 'bare'] as const;
    const series = planSeries(set, { order, interval_s: 5, framesPerExposure: 12 });
    expect(series.map(({ name }) => name)).toEqual([
      'left-lens',
      'right-lens',
      'right-lens-2',
      'left-lens-2',
      'bare',
      'bare-2',
    ]);
    expect(series.map(({ start_s }) => start_s)).toEqual([0, 5, 10, 15, 20, 25]);
    expect(new Set(series.map(({ noiseSeed }) => noiseSeed)).size).toBe(6);
    expect(series.every(({ shot }) => shot.frames === undefined)).toBe(true);
  });
  it('shows the film elsewhere in each photograph', () => {
    const series = planSeries(set, { order: ['left', 'right', 'bare'], motion: { jump_mm: 0.005, weave_mm: 0.005 } });
    const places = series.map(({ shot }) => shot.frames!.reduce((sum, f) => sum + f.share.left * f.shift_ih.y, 0));
    expect(new Set(places).size).toBe(3);
    for (const place of places) expect(Math.abs(place)).toBeLessThan(0.002);
  });
  it('a film that stands elsewhere changes the misalignment by size times shift, and by nothing where sizes are equal', () => {
    const motion = { jump_mm: 0.02, weave_mm: 0.02 };
    const changeOf = (size_pct: number) => {
      const house = setUpRehearsal(5, { start: 'aligned', size_pct, photo });
      const [bare] = planSeries(house, { order: ['bare'], motion }) as [SeriesPhotograph];
      const still = sceneMisalignmentTruth(house.scene, bare.shot).terms;
      const shown = sceneMisalignmentTruth(house.scene, bare.shot, 'as-exposed').terms;
      const shift = bare.shot.frames!.reduce((sum, f) => sum + f.share.left * f.shift_ih.y, 0);
      return { change: shown.verticalOffset - still.verticalOffset, shift };
    };
    expect(Math.abs(changeOf(0).change)).toBeLessThan(1e-12);
    const { change, shift } = changeOf(1);
    expect(Math.abs(shift)).toBeGreaterThan(1e-4);
    expect(change / (0.01 * shift)).toBeCloseTo(1, 1.5);
  });
  it('a frame that is turned moves the two pictures sideways against each other', () => {
    const [turned] = planSeries(set, { order: ['bare'], motion: { turn_deg: 0.01 }, framesPerExposure: 0 }) as [
      SeriesPhotograph,
    ];
    const { turn_rad } = turned.shot.frames![0]!;
    const still = sceneMisalignmentTruth(set.scene, turned.shot).terms.horizontalOffset;
    const moved = sceneMisalignmentTruth(set.scene, turned.shot, 'as-exposed').terms.horizontalOffset;
    expect((moved - still) / ((-turn_rad * 9.525) / (20.95 / 2.35))).toBeCloseTo(1, 1);
  });
});

describe('bareShot', () => {
  it('has both pictures as strong as the lamp makes them, together as bright as one through its lens', () => {
    const { strength } = shotTruth(set.scene, bareShot(set));
    const lens = shotTruth(set.scene, set.shots.left).strength;
    expect(strength.right / strength.left).toBeCloseTo(set.scene.brightness.right / set.scene.brightness.left, 9);
    expect(strength.left + strength.right).toBeLessThan(1.2 * Math.max(lens.left, lens.right));
  });
});
