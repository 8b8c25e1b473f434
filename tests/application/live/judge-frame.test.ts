import { describe, expect, it } from 'vitest';
import type { SeenTarget } from '../../../src/application/live/follow-target.ts';
import { judgeDarkness, judgeSeen, judgeUnseen } from '../../../src/application/live/judge-frame.ts';
import type { Pixels } from '../../../src/imaging/pixels.ts';
import type { Homography } from '../../../src/kernel/homography.ts';
import { plainLens, project } from '../../../src/kernel/view.ts';
import { layoutChart } from '../../../src/target/chart.ts';
import { obliqueView, squareView } from '../../vision/photograph-marks.ts';

const chart = layoutChart();
const CENTRE = { x: 960, y: 540 };

interface Made {
  readonly photoFromChart?: Homography;
  readonly bright?: number;
  readonly dark?: number;
  readonly blur_px?: number;
  readonly leak?: number | null;
  /** Of the marks, seen. */
  readonly part?: number;
}

function target(made: Made = {}): SeenTarget {
  const {
    photoFromChart = squareView(650, CENTRE),
    bright = 0.6,
    dark = 0.004,
    blur_px = 1,
    leak = 0.01,
    part = 1,
  } = made;
  const view = { photoFromChart, lens: plainLens(1920, 1080) };
  const all = [...chart.marks.entries()].filter(([, mark]) => mark.eye === 'left');
  const left = all
    .slice(0, Math.round(part * all.length))
    .map(([index, mark]) => ({ mark, index, centre: project(view, mark), bright, dark }));
  return { outcome: 'seen', eye: 'left', view, marks: { left, right: [] }, leak, blur_px };
}

const hintOf = (made: Made) => judgeSeen(target(made), chart).hint;

const evenly = (code: number): Pixels => ({
  width: 640,
  height: 480,
  channels: 1,
  data: new Uint8Array(640 * 480).fill(code),
});

describe('a frame with a target', () => {
  it('is ready when nothing is wrong', () => {
    const seen = judgeSeen(target(), chart);
    expect(seen).toMatchObject({ hint: 'ready', shows: 'left', expected: 48, clipped_pct: 0, blur_px: 1 });
    expect(seen.leak_pct).toBeCloseTo(1, 9);
    // sRGB of 0.6 in linear light, IEC 61966-2-1.
    expect(seen.brightest).toBeCloseTo(0.7977, 3);
    expect(seen.marks).toHaveLength(48);
  });

  it.each([
    ['bright', { bright: 1 }],
    ['dark', { bright: 0.1 }],
    ['oblique', { photoFromChart: obliqueView(650, CENTRE, 45, 0) }],
    ['small', { photoFromChart: squareView(400, CENTRE) }],
    ['few-marks', { part: 0.7 }],
    ['soft', { blur_px: 2.5 }],
    ['both-eyes', { leak: 0.9 }],
  ] as const)('%s where it is', (hint, made) => {
    expect(hintOf(made)).toBe(hint);
  });

  it('names the more urgent fault of two', () => {
    expect(hintOf({ bright: 1, blur_px: 9, part: 0.5 })).toBe('bright');
    expect(hintOf({ leak: 0.9, blur_px: 9 })).toBe('soft');
  });

  it('shows both where the pictures are alike, else the stronger one', () => {
    expect(judgeSeen(target({ leak: 0.6 }), chart).shows).toBe('both');
    expect(judgeSeen(target({ leak: 0.4 }), chart).shows).toBe('left');
    expect(judgeSeen(target({ leak: null }), chart)).toMatchObject({ shows: 'left', leak_pct: null });
  });
});

describe('a frame without a target', () => {
  it('is dark where nothing is lit', () => {
    expect(judgeDarkness(evenly(6), chart)).toMatchObject({ hint: 'dark', shows: null, marks: [] });
    expect(judgeDarkness(evenly(60), chart)).toBeUndefined();
  });

  it('is not called dark for a few bright marks in a black frame', () => {
    const few = evenly(3);
    (few.data as Uint8Array).fill(180, 1000, 1100);
    expect(judgeDarkness(few, chart)).toBeUndefined();
  });

  it.each([
    ['underexposed', 'dark'],
    ['overexposed', 'bright'],
    ['no-target', 'no-target'],
    ['mirrored', 'mirrored'],
    ['upside-down', 'upside-down'],
    ['too-oblique', 'oblique'],
    ['too-few-marks', 'few-marks'],
    ['blurred', 'soft'],
    ['inconsistent-marks', 'no-target'],
  ] as const)('%s gives the hint %s', (code, hint) => {
    expect(judgeUnseen({ outcome: 'unseen', code }, evenly(90), chart)).toMatchObject({ hint, shows: null });
  });
});
