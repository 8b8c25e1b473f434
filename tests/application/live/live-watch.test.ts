/** The watch over rendered frames: what it sees, what it says, and whether it keeps to what it says. */
import { describe, expect, it } from 'vitest';
import { createLiveWatch } from '../../../src/application/live/live-watch.ts';
import { frameVerdict } from '../../../src/contract/live.ts';
import { filmFrame } from '../../interface/simulated-camera.ts';
import { LEAK, PEAK, projectionist, SIZE, stageOf, THROUGH } from './filmed.ts';

const stage = stageOf();
const start = () => projectionist(createLiveWatch(2.35), stage);

function mirror(luma: Uint8Array): Uint8Array {
  const { width, height } = SIZE;
  const out = new Uint8Array(luma.length);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) out[y * width + x] = luma[y * width + width - 1 - x]!;
  }
  return out;
}

describe('a watch over a still picture', () => {
  it.each(['left', 'right'] as const)('names the %s eye, finds its marks and calls the picture ready', (eye) => {
    const { verdict } = start().run(12, THROUGH[eye], 0.15);
    expect(verdict.hint).toBe('ready');
    expect(verdict.shows).toBe(eye);
    expect(verdict.isSteady).toBe(true);
    expect(verdict.expected).toBe(eye === 'left' ? 48 : 47);
    expect(verdict.marks.filter((mark) => mark.eye === eye).length).toBeGreaterThanOrEqual(46);
    expect(verdict.movement_px).toBeLessThan(1);
    expect(verdict.clipped_pct).toBe(0);
    expect(verdict.brightest).toBeGreaterThan(0.75);
    expect(verdict.brightest).toBeLessThan(0.9);
  });

  it('gives verdicts as the contract has them', () => {
    const camera = start();
    for (const { verdict } of [camera.run(3, THROUGH.left), camera.show(THROUGH.cap), camera.run(9, THROUGH.bare)]) {
      expect(frameVerdict.parse({ ...verdict, analysis_ms: 1 })).toEqual({ ...verdict, analysis_ms: 1 });
    }
  });

  it('says nothing of movement before it has watched for a while', () => {
    const { verdict } = start().run(2, THROUGH.left);
    expect([verdict.movement_px, verdict.isSteady, verdict.hint]).toEqual([null, false, 'moving']);
  });

  it('sees both pictures without glasses, and how strong the weaker one is', () => {
    const { verdict } = start().run(12, THROUGH.bare);
    expect([verdict.hint, verdict.shows, verdict.isSteady]).toEqual(['both-eyes', 'both', true]);
    expect(verdict.leak_pct).toBeGreaterThan(87);
    expect(verdict.leak_pct).toBeLessThan(93);
    expect(verdict.marks.filter(({ eye }) => eye === 'right').length).toBeGreaterThanOrEqual(46);
    expect(verdict.marks.filter(({ eye }) => eye === 'left').length).toBeGreaterThanOrEqual(46);
  });

  it.each([0.2, 0.05, 0.02])(
    'measures a leak of %d to a tenth of itself, and shows its marks where it is a picture',
    (leak) => {
      const { verdict } = start().run(6, { left: PEAK, right: leak * PEAK });
      expect(verdict.leak_pct).toBeGreaterThan(90 * leak);
      expect(verdict.leak_pct).toBeLessThan(110 * leak);
      expect(verdict.shows).toBe('left');
      expect(verdict.marks.some(({ eye }) => eye === 'right')).toBe(leak > 0.1);
    },
  );

  it('claims no leak where there is none', () => {
    expect(start().run(6, { left: PEAK, right: 0 }).verdict.leak_pct).toBeNull();
  });
});

describe('places of marks', () => {
  it('are those of the picture to a fifth of a pixel, also after it has moved on', () => {
    const camera = start();
    camera.run(4, THROUGH.left);
    const shift = { x: 2.3, y: -1.6 };
    camera.show({ ...THROUGH.left, shift: { x: 1.2, y: -0.8 } });
    const { verdict } = camera.show({ ...THROUGH.left, shift });
    const before = start().run(4, THROUGH.left).verdict;
    const moved = verdict.marks.map((mark) => {
      const earlier = before.marks.find(({ id }) => id === mark.id)!;
      return { x: mark.x - earlier.x, y: mark.y - earlier.y };
    });
    expect(moved.length).toBeGreaterThan(44);
    for (const { x, y } of moved) expect(Math.hypot(x - shift.x, y - shift.y)).toBeLessThan(0.35);
    const mean = (axis: 'x' | 'y') => moved.reduce((sum, each) => sum + each[axis], 0) / moved.length;
    expect(mean('x')).toBeCloseTo(shift.x, 1);
    expect(mean('y')).toBeCloseTo(shift.y, 1);
  });
});

describe('a watch over what goes wrong', () => {
  it('a lens cap is darkness, and what comes after it is found again', () => {
    const camera = start();
    camera.run(8, THROUGH.left);
    const dark = camera.run(3, THROUGH.cap).verdict;
    expect([dark.hint, dark.shows, dark.marks.length, dark.movement_px]).toEqual(['dark', null, 0, null]);
    const back = camera.run(8, THROUGH.right).verdict;
    expect([back.hint, back.shows]).toEqual(['ready', 'right']);
  });

  it('another lens before the camera is noticed within a few frames', () => {
    const camera = start();
    camera.run(8, THROUGH.left);
    expect(camera.run(2, THROUGH.right).verdict.shows).toBe('right');
  });

  it('a jump of a tenth of the picture is followed at once', () => {
    const camera = start();
    camera.run(8, THROUGH.left);
    const { verdict } = camera.show({ ...THROUGH.left, shift: { x: -52, y: 17 } });
    expect(verdict.marks.length).toBeGreaterThan(44);
    expect(verdict.hint).toBe('moving');
    expect(verdict.movement_px).toBeGreaterThan(53);
    expect(verdict.movement_px).toBeLessThan(57);
  });

  it('a slow drift is movement', () => {
    const camera = start();
    let last = camera.run(8, THROUGH.left);
    for (let i = 1; i <= 10; i++) last = camera.show({ ...THROUGH.left, shift: { x: 0.4 * i, y: 0 } });
    expect([last.verdict.hint, last.verdict.isSteady]).toEqual(['moving', false]);
    expect(last.verdict.movement_px).toBeCloseTo(4, 0);
  });

  it('burnt out, too dark, mirrored and absent targets have their hints', () => {
    expect(start().run(6, { left: 2.2, right: 0.01 }).verdict.hint).toBe('bright');
    const dim = start().run(6, { left: 0.06, right: 0.0004 }).verdict;
    expect(dim.hint).toBe('dark');
    expect(dim.marks.length).toBeGreaterThan(30);
    const camera = start();
    expect(camera.showLuma(mirror(filmFrame(stage, { ...THROUGH.left, seed: 1 }))).verdict.hint).toBe('mirrored');
    const wall = new Uint8Array(SIZE.width * SIZE.height).fill(90);
    for (let i = 0; i < wall.length; i += 7) wall[i] = 96;
    const absent = camera.showLuma(wall).verdict;
    expect(absent.shows).toBeNull();
    expect(['no-target', 'soft']).toContain(absent.hint);
  });

  it('a small target and a soft one have their hints', () => {
    expect(projectionist(createLiveWatch(2.35), stageOf(0.5)).run(3, THROUGH.left).verdict.hint).toBe('small');
    const soft = projectionist(createLiveWatch(2.35), stageOf(0.86, 2.2)).run(3, THROUGH.left).verdict;
    expect(soft.hint).toBe('soft');
  });

  it('refuses luma of another size than it is said to have', () => {
    const watch = createLiveWatch(2.35);
    const header = { serial: 1, width: 100, height: 80, range: 'full' } as const;
    expect(() => watch.judge(header, new Uint8Array(7999), 0)).toThrow(RangeError);
  });
});

describe('a shot of several frames', () => {
  it('counts up to what was asked for, and then is done', () => {
    const watch = createLiveWatch(2.35);
    const camera = projectionist(watch, stage);
    camera.run(9, THROUGH.left, 0.15);
    watch.begin({ slot: 'left-lens', frames: 4 });
    const counts = [1, 2, 3, 4].map(() => camera.run(1, THROUGH.left, 0.15));
    expect(counts.map(({ verdict }) => verdict.capture)).toEqual(
      [1, 2, 3, 4].map((have) => ({ slot: 'left-lens', have, want: 4 })),
    );
    expect(counts.map(({ taken }) => taken !== null)).toEqual([false, false, false, true]);
    const { taken } = counts[3]!;
    expect([taken!.slot, taken!.count, taken!.clippedFrames]).toEqual(['left-lens', 4, 0]);
    expect(taken!.pixels.data).toBeInstanceOf(Uint16Array);
    expect(camera.show(THROUGH.left).verdict.capture).toBeNull();
  });

  it('tells how far the picture wandered', () => {
    const watch = createLiveWatch(2.35);
    const camera = projectionist(watch, stage);
    camera.run(9, THROUGH.left);
    watch.begin({ slot: 'left-lens', frames: 8 });
    const shifts = [-0.4, 0.4, -0.4, 0.4, -0.4, 0.4, -0.4, 0.4];
    const last = shifts.map((y) => camera.show({ ...THROUGH.left, shift: { x: 0, y } })).at(-1)!;
    // The standard deviation of that row, n - 1 in the denominator.
    expect(last.taken!.wander_px!.y).toBeCloseTo(0.4 * Math.sqrt(8 / 7), 1);
    expect(last.taken!.wander_px!.x).toBeLessThan(0.05);
  });

  it('leaves out frames that moved or lost the target, and says so by not growing', () => {
    const watch = createLiveWatch(2.35);
    const camera = projectionist(watch, stage);
    camera.run(9, THROUGH.left);
    watch.begin({ slot: 'left-lens', frames: 12 });
    expect(camera.run(3, THROUGH.left).verdict.capture!.have).toBe(3);
    expect(camera.show({ ...THROUGH.left, shift: { x: 9, y: 0 } }).verdict.capture!.have).toBe(3);
    expect(camera.run(2, THROUGH.cap).verdict.capture!.have).toBe(3);
    // Back in its place, but not still for long enough yet.
    expect(camera.run(2, THROUGH.left).verdict.capture!.have).toBe(3);
    expect(camera.run(18, THROUGH.left).taken?.count ?? 0).toBe(0);
  });

  it('begins afresh where the camera has been moved for good', () => {
    const watch = createLiveWatch(2.35);
    const camera = projectionist(watch, stage);
    camera.run(9, THROUGH.left);
    watch.begin({ slot: 'right-lens', frames: 8 });
    camera.run(4, THROUGH.left);
    let last = camera.run(1, { ...THROUGH.left, shift: { x: 12, y: 5 } });
    for (let i = 0; i < 60 && !last.taken; i++) last = camera.run(1, { ...THROUGH.left, shift: { x: 12, y: 5 } });
    expect(last.taken!.count).toBe(8);
    expect(last.taken!.wander_px!.x).toBeLessThan(0.1);
  });

  it('begins afresh in another resolution', () => {
    const watch = createLiveWatch(2.35);
    const camera = projectionist(watch, stage);
    camera.run(9, THROUGH.left);
    watch.begin({ slot: 'bare', frames: 8 });
    expect(camera.run(2, THROUGH.left).verdict.capture!.have).toBe(2);
    const header = { serial: 99, width: 640, height: 480, range: 'full' } as const;
    const { verdict } = watch.judge(header, new Uint8Array(640 * 480), 5000);
    expect(verdict.capture).toEqual({ slot: 'bare', have: 0, want: 8 });
  });

  it('is given up when watching stops', () => {
    const watch = createLiveWatch(2.35);
    const camera = projectionist(watch, stage);
    camera.run(9, THROUGH.left);
    watch.begin({ slot: 'left-lens', frames: 3 });
    watch.stop();
    expect(camera.run(9, THROUGH.left).verdict.capture).toBeNull();
  });

  it('notes frames whose marks were clipped', () => {
    const watch = createLiveWatch(2.35);
    const camera = projectionist(watch, stage);
    const order = { left: 1.25, right: 1.25 * LEAK };
    camera.run(9, order);
    watch.begin({ slot: 'left-lens', frames: 2 });
    expect(camera.run(2, order).taken!.clippedFrames).toBe(2);
  });
});
