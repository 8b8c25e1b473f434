import { describe, expect, it } from 'vitest';
import type { FrameVerdict } from '../../../../../src/contract/live.ts';
import {
  type BarState,
  EMPTY_BAR,
  followGhost,
  lengthOf,
} from '../../../../../src/shells/interface/screens/polarizers/falling-bar.ts';

const verdict = (leak_pct: number | null, shows: FrameVerdict['shows'] = 'left'): FrameVerdict => ({
  serial: 1,
  hint: 'ready',
  shows,
  leak_pct,
  marks: [],
  expected: 48,
  blur_px: 1,
  clipped_pct: 0,
  brightest: 0.8,
  movement_px: 0,
  isSteady: true,
  capture: null,
  analysis_ms: 10,
});

/** Frames of a camera, ten a second. */
function film(frames: readonly FrameVerdict[], from: BarState = EMPTY_BAR, begun_ms = 0): BarState {
  return frames.reduce((state, frame, i) => followGhost(state, frame, 'left', begun_ms + 100 * i), from);
}

const many = (count: number, leak_pct: (i: number) => number | null) =>
  Array.from({ length: count }, (_, i) => verdict(leak_pct(i)));

describe('followGhost', () => {
  it('waits for a few frames, and takes their middle', () => {
    expect(film(many(2, () => 3)).now).toBeNull();
    expect(film([9, 3.2, 30, 2.9].map((leak) => verdict(leak))).now).toBe(3.2);
  });

  it('takes the last few frames of a machine that is slow, but none of long ago', () => {
    const slowly = (apart_ms: number) =>
      [9, 3.2, 2.9].reduce((state, leak, i) => followGhost(state, verdict(leak), 'left', apart_ms * i), EMPTY_BAR);
    expect(slowly(2000).now).toBe(3.2);
    expect(slowly(6000).now).toBeNull();
  });

  it('says which way it goes, and keeps the least', () => {
    const falling = film(many(20, (i) => 10 - 0.4 * i));
    expect(falling.way).toBe('falling');
    expect(falling.now).toBeCloseTo(2.8, 6);
    const rising = film(
      many(20, (i) => 2.4 + 0.4 * i),
      falling,
      2000,
    );
    expect(rising.way).toBe('rising');
    expect(rising.lowest).toBeCloseTo(2.4, 6);
    expect(film(many(20, (i) => 3 + 0.1 * (i % 2))).way).toBe('resting');
    expect(film(many(10, () => 3)).way).toBeNull();
  });

  it('takes a ghost too faint for the camera for the least of all', () => {
    const state = film([...many(10, () => 1), ...many(5, () => null), ...many(5, () => 0.1), ...many(10, () => 1)]);
    expect([state.now, state.lowest]).toEqual([1, 'faint']);
    expect(lengthOf('faint')).toBe(0);
  });

  it('knows when the ghost is the stronger of the two', () => {
    const swapped = film(Array.from({ length: 6 }, () => verdict(25, 'right')));
    expect(swapped.now).toBe(400);
    expect(film(Array.from({ length: 6 }, () => verdict(90, 'both'))).now).toBe(100);
  });

  it('shows nothing while no target is seen, and forgets no least', () => {
    const lost = followGhost(film(many(10, () => 2)), verdict(null, null), 'left', 1000);
    expect([lost.now, lost.lowest, lost.way]).toEqual([null, 2, null]);
  });
});

it('the bar shrinks evenly with the angle', () => {
  const at = (angle_deg: number) => lengthOf(100 * Math.sin((angle_deg * Math.PI) / 180) ** 2);
  expect(at(20) / at(10)).toBeCloseTo(2, 1);
  expect(at(10) / at(5)).toBeCloseTo(2, 1);
  expect(lengthOf(400)).toBe(1);
  expect(lengthOf(null)).toBe(0);
});
