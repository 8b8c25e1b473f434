import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/kernel/random.ts';
import { exposeFilm, type FilmFrame, heightInFrame, moveWithFilm, DEFAULT_FILM } from '../../src/scene/film-motion.ts';

const single = (motion: Parameters<typeof exposeFilm>[1], count: number, frames = 0, seed = 1) =>
  exposeFilm(
    DEFAULT_FILM,
    motion,
    Array.from({ length: count }, (_, i) => ({ start_s: (i * (frames === 0 ? 1 : frames + 2) + 0.25) / 24, frames })),
    createRandom(seed),
  );
const rms = (values: readonly number[]) => Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);
const lagged = (values: readonly number[], lag: number) =>
  values.slice(lag).reduce((sum, v, i) => sum + v * values[i]!, 0) / (values.length - lag) / rms(values) ** 2;

describe('exposeFilm', () => {
  it('jumps without memory and weaves with it, as wide as it was told, in picture heights', () => {
    const shots = single({ jump_mm: 0.005, weave_mm: 0.01, weaveTime_s: 0.5 }, 20000);
    const [x, y] = [shots.map(([f]) => f!.shift_ih.x), shots.map(([f]) => f!.shift_ih.y)];
    // 20.95 mm over 2.35 are 8.915 mm of height: 0.005 mm are 0.0561 % of it.
    expect(100 * rms(y)).toBeCloseTo(0.0561, 2.5);
    expect((100 * rms(x)) / 0.1122).toBeCloseTo(1, 0.9);
    expect(Math.abs(lagged(y, 1))).toBeLessThan(0.03);
    expect(lagged(x, 1)).toBeCloseTo(Math.exp(-1 / 12), 1.5);
    expect(lagged(x, 12)).toBeCloseTo(Math.exp(-1), 0.9);
  });
  it('averages the frames of an exposure in parts that add up to one, the first and the last cut', () => {
    for (const frames of single({ jump_mm: 0.005 }, 50, 6)) {
      const shares = frames.map(({ share }) => share.left);
      expect(shares.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
      expect(shares.slice(1, -1).every((share) => Math.abs(share - 1 / 6) < 1e-12)).toBe(true);
      expect(frames.every(({ share }) => share.left === share.right)).toBe(true);
    }
  });
  it('a blade that wipes lights the upper picture later: it has more of the first frame and less of the last', () => {
    for (const frames of single({ shutterWipe_frames: 0.1 }, 50, 6)) {
      const [first, last] = [frames[0]!.share, frames.at(-1)!.share];
      expect(DEFAULT_FILM.upperPortShows).toBe('right');
      const total = (eye: 'left' | 'right') => frames.reduce((sum, { share }) => sum + share[eye], 0);
      for (const eye of ['left', 'right'] as const) expect(total(eye)).toBeCloseTo(1, 12);
      expect(first.right + 1e-12 >= first.left).toBe(true);
      expect(Math.abs(first.right - first.left)).toBeLessThanOrEqual(0.1 / 6 + 1e-12);
      expect(last.left + 1e-12 >= last.right).toBe(true);
    }
  });
  it('the same source gives the same film, another one another film; times do not run backwards', () => {
    expect(single({ jump_mm: 0.005 }, 5)).toEqual(single({ jump_mm: 0.005 }, 5));
    expect(single({ jump_mm: 0.005 }, 5)).not.toEqual(single({ jump_mm: 0.005 }, 5, 0, 2));
    const back = [1, 0].map((start_s) => ({ start_s, frames: 6 }));
    expect(() => exposeFilm(DEFAULT_FILM, {}, back, createRandom(1))).toThrow(RangeError);
  });
});

describe('moveWithFilm', () => {
  const frame = (some: Partial<FilmFrame>): FilmFrame => ({
    shift_ih: { x: 0, y: 0 },
    turn_rad: 0,
    share: { left: 1, right: 1 },
    ...some,
  });
  it('a shift moves both pictures alike', () => {
    for (const eye of ['left', 'right'] as const) {
      const moved = moveWithFilm(DEFAULT_FILM, eye, frame({ shift_ih: { x: 0.001, y: -0.002 } }), { x: 0.3, y: 0.1 });
      expect(moved.x).toBeCloseTo(0.301, 12);
      expect(moved.y).toBeCloseTo(0.098, 12);
    }
  });
  it('a turn moves the picture that stands above to the left and the other one to the right', () => {
    const turn_rad = 1e-4;
    const right = moveWithFilm(DEFAULT_FILM, 'right', frame({ turn_rad }), { x: 0, y: 0 });
    const left = moveWithFilm(DEFAULT_FILM, 'left', frame({ turn_rad }), { x: 0, y: 0 });
    // 9.525 mm of 8.915 mm of height apart.
    const apart = 9.525 / (20.95 / 2.35);
    expect(heightInFrame(DEFAULT_FILM, 'right') - heightInFrame(DEFAULT_FILM, 'left')).toBeCloseTo(apart, 12);
    expect(right.x - left.x).toBeCloseTo(-turn_rad * apart, 9);
    expect(right.y - left.y).toBeCloseTo(0, 7);
  });
});
