import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { mapVerticalError } from '../../../../../../src/drawings/error-map.ts';
import type { MeasuredReading } from '../../../../../../src/record/reading.ts';
import { drawMap, drawMapNumbers } from '../../../../../../src/shells/interface/screens/reading/layers/draw-map.ts';
import { sampleReading } from '../../../../../report/sample-reading.ts';

const quiet = () => new Proxy({}, { get: () => () => undefined, set: () => true });

beforeEach(() => {
  vi.stubGlobal('document', { createElement: () => ({ getContext: quiet }) });
  vi.stubGlobal(
    'DOMMatrix',
    class {
      scale() {
        return this;
      }
    },
  );
});
afterEach(() => {
  vi.unstubAllGlobals();
});

const HATCH = { setTransform: () => undefined };

function recordingPen() {
  const fills: unknown[] = [];
  const dashes: unknown[] = [];
  const words: { readonly text: string; readonly x: number; readonly y: number }[] = [];
  const set: Record<string, unknown> = {};
  const own: Record<string, unknown> = {
    createPattern: () => HATCH,
    getTransform: () => ({ a: 2 }),
    measureText: () => ({ width: 30 }),
    fill: () => fills.push(set.fillStyle),
    setLineDash: (dash: unknown) => dashes.push(dash),
    fillText: (text: string, x: number, y: number) => words.push({ text, x, y }),
  };
  const pen = new Proxy(set, {
    get: (_, name: string) => own[name] ?? (() => undefined),
    set: (_, name: string, value) => {
      set[name] = value;
      return true;
    },
  });
  return { pen: pen as never, fills, dashes, words };
}

const roll: MeasuredReading = {
  ...sampleReading,
  evidence: {
    ...sampleReading.evidence,
    field: sampleReading.evidence.field.map((point) => ({ ...point, dy_pct: 0.4 * point.at[0] })),
  },
};
const map = mapVerticalError(roll, 1.5, 5);
/** The sample's photograph is 4000 x 3000 px. */
const stage = { width: 1000, height: 750 };
const view = { scale: 0.25, corner: { x: 0, y: 0 } };

describe('the drawing of the map', () => {
  it('shades every band, and hatches the negative ones and no others', () => {
    const { pen, fills, dashes } = recordingPen();
    drawMap(pen, map, view);
    expect(fills.filter((style) => style === HATCH)).toHaveLength(
      map.bands.filter(({ isNegative }) => isNegative).length,
    );
    expect(fills.filter((style) => style !== HATCH)).toHaveLength(map.bands.length);
    expect(dashes).toContainEqual([9, 5]);
  });

  it('gives each contour and each limit its signed number, apart from one another and within the stage', () => {
    const { pen, words } = recordingPen();
    drawMapNumbers(pen, map, view, stage, '13px serif');
    const texts = words.map(({ text }) => text);
    expect(texts).toEqual(expect.arrayContaining(['+5′', '−5′', '0′']));
    expect(new Set(texts).size).toBe(texts.length);
    words.forEach((a, i) => {
      expect(a.x > 0 && a.x < stage.width && a.y > 0 && a.y < stage.height).toBe(true);
      for (const b of words.slice(i + 1)) expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeGreaterThan(30);
    });
  });

  it('keeps the numbers in sight when a part is enlarged', () => {
    const { pen, words } = recordingPen();
    drawMapNumbers(pen, map, { scale: 1, corner: { x: 1500, y: 1200 } }, stage, '13px serif');
    expect(words.length).toBeGreaterThan(0);
  });
});
