import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { buildPyramid } from '../../../../../../src/shells/interface/screens/reading/viewer/luminance-plane.ts';
import { createPainter } from '../../../../../../src/shells/interface/screens/reading/viewer/paint-photographs.ts';

/** What a page has and Node has not: canvases that keep what was put into them. */
interface StandInCanvas {
  width: number;
  height: number;
  data: Uint8ClampedArray<ArrayBufferLike>;
}
let made: StandInCanvas[] = [];

beforeEach(() => {
  made = [];
  vi.stubGlobal(
    'ImageData',
    class {
      constructor(readonly data: Uint8ClampedArray) {}
    },
  );
  vi.stubGlobal('document', {
    createElement: () => {
      const canvas = {
        width: 0,
        height: 0,
        data: new Uint8ClampedArray() as Uint8ClampedArray<ArrayBufferLike>,
        getContext: () => ({ putImageData: (image: { data: Uint8ClampedArray }) => (canvas.data = image.data) }),
      };
      made.push(canvas);
      return canvas;
    },
  });
});
afterEach(() => {
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
});

const grey = (code: number) => buildPyramid({ width: 1300, height: 700, data: new Uint8Array(1300 * 700).fill(code) });
const painter = () => createPainter({ left: grey(100), right: grey(60) });
const stage = { width: 800, height: 400 };
const actualSize = { scale: 1, corner: { x: 0, y: 0 } };

function recordingPen() {
  const drawn: { readonly canvas: StandInCanvas; readonly to: readonly number[]; readonly isSmooth: boolean }[] = [];
  const pen = {
    imageSmoothingEnabled: true,
    drawImage: (canvas: StandInCanvas, ...numbers: number[]) =>
      drawn.push({ canvas, to: numbers.slice(-4), isSmooth: pen.imageSmoothingEnabled }),
  };
  return { pen: pen as never, drawn };
}

describe('the painter', () => {
  it('shows one exposure of both pictures as it is', () => {
    vi.spyOn(performance, 'now').mockReturnValue(0);
    const { pen } = recordingPen();
    const one = grey(100);
    expect(createPainter({ left: one, right: one }).paint(pen, 'both', actualSize, stage, 1)).toBe(true);
    const [red, green, blue] = made[0]!.data;
    expect([green, blue]).toEqual([red, red]);
    expect(red).toBe(255);
  });

  it('colours the tiles in sight once and keeps them', () => {
    vi.spyOn(performance, 'now').mockReturnValue(0);
    const { pen, drawn } = recordingPen();
    const it = painter();
    expect(it.paint(pen, 'left', actualSize, stage, 1)).toBe(true);
    expect(drawn).toHaveLength(2);
    expect(it.paint(pen, 'left', actualSize, stage, 1)).toBe(true);
    expect(made).toHaveLength(2);
    // White is the brightest of an even grey: the left photograph comes out as full orange.
    const [red, green, blue] = made[0]!.data;
    expect(red).toBe(255);
    expect(green).toBeGreaterThan(blue!);
  });

  it('leaves pixels crisp when they are enlarged, and smooths when they are made smaller', () => {
    vi.spyOn(performance, 'now').mockReturnValue(0);
    const { pen, drawn } = recordingPen();
    painter().paint(pen, 'both', { scale: 6, corner: { x: 100, y: 100 } }, stage, 1);
    expect(drawn.every(({ isSmooth }) => !isSmooth)).toBe(true);
    const smaller = recordingPen();
    painter().paint(smaller.pen, 'both', { scale: 0.7, corner: { x: 0, y: 0 } }, stage, 1);
    expect(smaller.drawn.every(({ isSmooth }) => isSmooth)).toBe(true);
  });

  it('shows coarsely what does not fit into one frame, in the same place, and says that it has to come again', () => {
    let clock = 0;
    vi.spyOn(performance, 'now').mockImplementation(() => (clock += 6));
    const it = painter();
    const first = recordingPen();
    expect(it.paint(first.pen, 'right', actualSize, stage, 1)).toBe(false);
    const second = recordingPen();
    vi.spyOn(performance, 'now').mockReturnValue(0);
    expect(it.paint(second.pen, 'right', actualSize, stage, 1)).toBe(true);
    expect(second.drawn.map(({ to }) => to)).toEqual(first.drawn.map(({ to }) => to));
  });

  it('colours everything anew when the brightness changes', () => {
    vi.spyOn(performance, 'now').mockReturnValue(0);
    const { pen } = recordingPen();
    const it = painter();
    it.setBrightness(1);
    it.paint(pen, 'left', actualSize, stage, 1);
    it.setBrightness(0.25);
    it.paint(pen, 'left', actualSize, stage, 1);
    expect(made).toHaveLength(4);
    expect(made[2]!.data[0]).toBeLessThan(made[0]!.data[0]!);
  });
});
