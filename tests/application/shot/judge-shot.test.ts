/** Each remark on a photograph that can be measured, from photographs in which just that is wrong. */
import { describe, expect, it } from 'vitest';
import type { PhotoToExamine } from '../../../src/application/shot/examine-photo.ts';
import { type ExaminedShot, examineQuickly } from '../../../src/application/shot/examine-shot.ts';
import { judgeShot, strongerEye, type UsablePhoto } from '../../../src/application/shot/judge-shot.ts';
import type { Pixels } from '../../../src/imaging/pixels.ts';
import type { Homography } from '../../../src/kernel/homography.ts';
import { BLUR_PX, CHART, PHOTO } from '../../vision/photograph-chart.ts';
import { addNoise, lightOfMarks, obliqueView, pixelsOf, squareView } from '../../vision/photograph-marks.ts';
import { type Exposure, lightOfChart, photographChart } from '../photograph-chart.ts';

function look(pixels: Pixels): ExaminedShot {
  const shot = examineQuickly(pixels, CHART);
  if (shot.outcome === 'refused') throw new Error(`${shot.code} ${JSON.stringify(shot.facts)}`);
  return shot;
}

const judge = (pixels: Pixels, slot: PhotoToExamine['slot'] = 'left-lens'): UsablePhoto =>
  judgeShot(look(pixels), CHART, slot);

const usual: Exposure = { left: 0.5, right: 0.003, seed: 1 };
/** The usual photograph with its light changed place by place; parts of the width and height. */
function changed(change: (light: number, x: number, y: number) => number): Pixels {
  const light = addNoise(lightOfChart(usual), { floor: 0.0008, photon: 3e-5 }, 1);
  return pixelsOf(
    light.map((v, i) => change(v, (i % PHOTO.width) / PHOTO.width, Math.floor(i / PHOTO.width) / PHOTO.height)),
    PHOTO.width,
    PHOTO.height,
    8,
  );
}

function seenFrom(photoFromChart: Homography): Pixels {
  const marks = CHART.marks.filter(({ eye }) => eye === 'left');
  const light = lightOfMarks(marks, {
    ...PHOTO,
    photoFromChart,
    blur_px: BLUR_PX,
    dark: 0.004,
    contrast: 0.5,
    fineness: 2,
  });
  return pixelsOf(addNoise(light, { floor: 0.0008, photon: 3e-5 }, 1), PHOTO.width, PHOTO.height, 8);
}

const middle = { x: PHOTO.width / 2, y: PHOTO.height / 2 };
const expected = CHART.marks.filter(({ eye }) => eye === 'left').length;

describe('a good photograph', () => {
  const judged = judge(photographChart(usual));

  it('is called that, with every mark of the picture that it shows', () => {
    expect(judged).toMatchObject({ code: 'good', shows: 'left', leak_pct: null, expected, clipped_pct: 0 });
    expect(judged.facts).toEqual({ found: expected, expected });
    expect(judged.marks).toHaveLength(expected);
    expect(new Set(judged.marks.map(({ id }) => id)).size).toBe(expected);
    expect(judged.blur_px).toBeGreaterThan(0.9);
    expect(judged.blur_px).toBeLessThan(1.2);
  });

  it('tells its marks’ brightness as a code', () => {
    // Linear light of 0.504 has the sRGB code 0.737.
    expect(judged.brightest).toBeGreaterThan(0.72);
    expect(judged.brightest).toBeLessThan(0.76);
  });
});

describe('which picture it shows', () => {
  it('the other eye’s, which is no fault by itself', () => {
    expect(judge(photographChart({ left: 0.003, right: 0.5, seed: 2 }))).toMatchObject({
      code: 'good',
      shows: 'right',
    });
  });

  it('one, with how much of the other leaks where both can be found', () => {
    const judged = judge(photographChart({ left: 0.5, right: 0.15, seed: 3 }));
    expect(judged).toMatchObject({ code: 'good', shows: 'left' });
    expect(judged.leak_pct).toBeGreaterThan(29);
    expect(judged.leak_pct).toBeLessThan(31);
    expect(judged.marks.filter(({ eye }) => eye === 'left')).toHaveLength(expected);
    expect(judged.marks.filter(({ eye }) => eye === 'right').length).toBeGreaterThan(40);
  });

  it('both alike: remarked upon through a lens, and right without glasses', () => {
    const pixels = photographChart({ left: 0.3, right: 0.25, seed: 4 });
    expect(judge(pixels)).toMatchObject({ code: 'both-eyes', shows: 'both' });
    expect(judge(pixels, 'closing').code).toBe('both-eyes');
  });

  it('without glasses both, and how their light compares', () => {
    const { code, shows, facts } = judge(photographChart({ left: 0.3, right: 0.25, seed: 4 }), 'bare');
    expect({ code, shows, weaker: facts.weaker }).toEqual({ code: 'both-pictures', shows: 'both', weaker: 'right' });
    expect(Number(facts.share_u_pct)).toBeGreaterThan(0);
    expect(Number(facts.share_u_pct)).toBeLessThan(1);
    expect(Math.abs(Number(facts.share_pct) - (100 * 0.25) / 0.3)).toBeLessThan(4 * Number(facts.share_u_pct));
  });

  it('without glasses one alone is a picture that is missing', () => {
    expect(judge(photographChart(usual), 'bare')).toMatchObject({ code: 'one-picture', facts: { weaker: 'right' } });
    const dim = judge(photographChart({ left: 0.2, right: 0.5, seed: 4 }), 'bare');
    expect(dim).toMatchObject({ code: 'one-picture', facts: { weaker: 'left' } });
    expect(Number(dim.facts.share_pct)).toBeCloseTo(40, 0);
  });

  it('by the strength of the marks, not by their number', () => {
    expect(strongerEye(look(photographChart({ left: 0.12, right: 0.5, seed: 5 })))).toBe('right');
  });
});

describe('what might be better', () => {
  it('dim: its own light below 15 % of full scale', () => {
    const judged = judge(photographChart({ left: 0.1, right: 0, seed: 1 }));
    expect(judged.code).toBe('dim');
    expect(judged.facts.light_pct).toBeCloseTo(10, 0);
    expect(judge(photographChart({ left: 0.2, right: 0, seed: 1 })).code).toBe('good');
  });

  it('bright: a hot spot burns out more than one mark in twenty', () => {
    const judged = judge(changed((light, x, y) => (Math.hypot(2 * (x - 0.5), y - 0.5) < 0.25 ? 2.4 * light : light)));
    expect(judged.code).toBe('bright');
    expect(Number(judged.facts.clipped)).toBeGreaterThan(0.05 * expected);
    expect(judged.clipped_pct).toBeGreaterThan(1);
    expect(judged.brightest).toBeGreaterThan(0.95);
  });

  it('soft: edges wider than the smallest marks bear', () => {
    const judged = judge(photographChart({ ...usual, blur_px: 2.2 }));
    expect(judged.code).toBe('soft');
    expect(Number(judged.facts.blur_px)).toBeGreaterThan(Number(judged.facts.limit_px));
    expect(judge(photographChart({ ...usual, blur_px: 1.5 })).code).toBe('good');
  });

  it('few marks: something stands before the picture', () => {
    const judged = judge(changed((light, x) => (x < 0.25 ? 0.004 : light)));
    expect(judged.code).toBe('few-marks');
    expect(judged.marks.length).toBeLessThan(0.9 * expected);
  });

  it('small: fewer than 500 px to the picture height', () => {
    expect(judge(seenFrom(squareView(560, middle))).code).toBe('good');
    const judged = judge(seenFrom(squareView(440, middle)));
    expect(judged.code).toBe('small');
    expect(judged.facts.height_px).toBeCloseTo(440, 0);
  });

  it('oblique: from farther aside than was ever tried', () => {
    expect(judge(seenFrom(obliqueView(600, middle, 30, 0))).code).toBe('good');
    const judged = judge(seenFrom(obliqueView(680, middle, 42, 0)));
    expect(judged.code).toBe('oblique');
    expect(Number(judged.facts.angle_deg)).toBeGreaterThan(41);
    expect(Number(judged.facts.angle_deg)).toBeLessThan(43);
  });
});
