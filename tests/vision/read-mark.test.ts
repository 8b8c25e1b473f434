import { describe, expect, it } from 'vitest';
import { createLightSampler } from '../../src/imaging/luminance.ts';
import type { Homography } from '../../src/kernel/homography.ts';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { layoutChart, type Mark } from '../../src/target/chart.ts';
import { halfTurned, mirrored } from '../../src/target/codebook.ts';
import { predictFrame } from '../../src/vision/crossing-pixels.ts';
import { type ReadMark, readMark } from '../../src/vision/read-mark.ts';
import { markAtOrigin, obliqueView, photographMarks, squareView, viewOf } from './photograph-marks.ts';

const SIZE = 140;
const MIDDLE = { x: 69.7, y: 69.2 };
/** Radius of the first look, as for a saddle found one coarse pixel in four. */
const FIRST_LOOK_PX = 5;

interface Look {
  readonly blur_px?: number;
  readonly dark?: number;
  readonly contrast?: number;
  /** How far the guess of the centre is off, px. */
  readonly off?: Point;
}

function read(mark: Mark, photoFromChart: Homography, look: Look = {}): ReadMark | undefined {
  const { blur_px = 1, dark = 0.01, contrast = 0.5, off = { x: 0.8, y: -0.6 } } = look;
  const photo = { width: SIZE, height: SIZE, photoFromChart, blur_px, dark, contrast, fineness: 2 };
  const sample = createLightSampler(photographMarks([mark], photo, 8));
  return readMark(sample, { x: MIDDLE.x + off.x, y: MIDDLE.y + off.y }, FIRST_LOOK_PX);
}

/** The word as it stands on the chart or from the other end of the axis: which end is read first is not known. */
function expectWord(result: ReadMark | undefined, word: number): void {
  expect(result).toBeDefined();
  expect([word, halfTurned(word)]).toContain(result!.word);
}

const words = layoutChart().marks.map(({ word }) => word);

describe('readMark', () => {
  it.each(Array.from({ length: 24 }, (_, i) => 15 * i))(
    'reads the word however the picture is turned: %d degrees',
    (turn) => {
      const word = words[turn % words.length];
      const result = read(markAtOrigin('left', word), squareView(1000, MIDDLE, turn));
      expectWord(result, word);
      expect(result!.doubtful).toBe(0);
      expect(Math.hypot(result!.centre.x - MIDDLE.x, result!.centre.y - MIDDLE.y)).toBeLessThan(0.5);
    },
  );

  it.each(['left', 'right'] as const)('reads every word of the chart in %s-eye marks at random angles', (eye) => {
    const random = createRandom(eye === 'left' ? 1 : 2);
    for (const word of words) {
      expectWord(read(markAtOrigin(eye, word), squareView(700, MIDDLE, random.between(0, 360))), word);
    }
  });

  it.each(Array.from({ length: 12 }, (_, i) => 30 * i))(
    'reads a mark seen at 50 degrees, leaning towards %d degrees',
    (towards) => {
      const word = words[towards % words.length];
      const photoFromChart = obliqueView(1200, MIDDLE, 50, towards, 13);
      const mark = markAtOrigin('right', word);
      const result = read(mark, photoFromChart);
      expectWord(result, word);
      // The edges as seen, up to which end of the axis came first.
      const { a1, a2 } = predictFrame(viewOf({ width: SIZE, height: SIZE, photoFromChart }), mark);
      const sign = Math.sign(a1.x * result!.a1.x + a1.y * result!.a1.y);
      for (const [found, expected] of [
        [result!.a1, a1],
        [result!.a2, a2],
      ]) {
        const length = Math.hypot(expected.x, expected.y);
        expect(Math.hypot(sign * found.x - expected.x, sign * found.y - expected.y)).toBeLessThan(0.12 * length);
      }
    },
  );

  it('gives the mirrored word in a mirrored picture', () => {
    for (const word of words.slice(0, 20)) {
      const photoFromChart: Homography = [-900, 80, MIDDLE.x, 80, -900, MIDDLE.y, 0, 0, 1];
      expectWord(read(markAtOrigin('left', word), photoFromChart), mirrored(word));
    }
  });

  it.each([0.5, 1.5, 2, 3, 4])('reads a blurred mark: %d px at a crossing of 27 px', (blur_px) => {
    expectWord(read(markAtOrigin('left', words[7]), squareView(1000, MIDDLE, 33), { blur_px }), words[7]);
  });

  it('reads a dim mark on a bright ground, and a faint one', () => {
    const view = squareView(900, MIDDLE, 200);
    expectWord(read(markAtOrigin('right', words[3]), view, { dark: 0.3, contrast: 0.1 }), words[3]);
    expectWord(read(markAtOrigin('right', words[3]), view, { dark: 0.0005, contrast: 0.01 }), words[3]);
  });

  it.each([0.05, 0.2, 0.5])('gives the contrast in linear light: %d', (contrast) => {
    const result = read(markAtOrigin('left', words[9]), squareView(1000, MIDDLE, 70), { contrast })!;
    expect(Math.abs(result.contrast / contrast - 1)).toBeLessThan(0.05);
  });

  it('reads from a guess that is more than a pixel off', () => {
    const random = createRandom(5);
    for (let i = 0; i < 20; i++) {
      const angle = random.between(0, 2 * Math.PI);
      const off = { x: 1.3 * Math.cos(angle), y: 1.3 * Math.sin(angle) };
      expectWord(read(markAtOrigin('left', words[i]), squareView(1000, MIDDLE, 20 * i), { off }), words[i]);
    }
  });

  it('gives the bit of each sector: one sector dark in an otherwise lit ring', () => {
    for (let j = 0; j < 16; j++) {
      const word = 0xffff ^ (1 << j);
      expectWord(read(markAtOrigin('left', word), squareView(1000, MIDDLE, 10 * j)), word);
    }
  });

  it('reads nothing where there is no crossing', () => {
    const word = words[0];
    const photo = { width: SIZE, height: SIZE, blur_px: 1, dark: 0.02, contrast: 0.5, fineness: 2 };
    const view = squareView(1000, MIDDLE);
    const sample = createLightSampler(
      photographMarks([markAtOrigin('left', word)], { ...photo, photoFromChart: view }, 8),
    );
    // Inside a bright quadrant, on an edge far from the crossing, and on the black ground.
    expect(readMark(sample, { x: MIDDLE.x + 3, y: MIDDLE.y - 14 }, FIRST_LOOK_PX)).toBeUndefined();
    expect(readMark(sample, { x: 12, y: 12 }, FIRST_LOOK_PX)).toBeUndefined();
    const flat = createLightSampler({
      width: SIZE,
      height: SIZE,
      channels: 1,
      data: new Uint8Array(SIZE * SIZE).fill(90),
    });
    expect(readMark(flat, MIDDLE, FIRST_LOOK_PX)).toBeUndefined();
  });

  it('reads nothing when the ring is cut off by the photograph’s edge', () => {
    const at = { x: 36, y: 69.2 };
    const photo = { width: SIZE, height: SIZE, blur_px: 1, dark: 0.01, contrast: 0.5, fineness: 2 };
    const sample = createLightSampler(
      photographMarks([markAtOrigin('left', words[0])], { ...photo, photoFromChart: squareView(1000, at) }, 8),
    );
    expect(readMark(sample, at, FIRST_LOOK_PX)).toBeUndefined();
  });
});
