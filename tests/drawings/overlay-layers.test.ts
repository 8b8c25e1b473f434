import { describe, expect, it } from 'vitest';
import { drawArrows, drawMarks, labelWorst, OVERLAY_LEFT } from '../../src/drawings/overlay-layers.ts';
import { sampleReading } from '../report/sample-reading.ts';

type Call = readonly [string, ...unknown[]];

/** A pen that writes down what it is told, and what was set when it filled or stroked. */
function recordingPen() {
  const calls: Call[] = [];
  const state: Record<string, unknown> = {};
  const pen = new Proxy(state, {
    get: (_, name: string) => {
      if (name === 'measureText') return () => ({ width: 80 });
      if (name in state && typeof state[name] !== 'function') return state[name];
      return (...args: unknown[]) => {
        const colour = name === 'fill' ? [state.fillStyle] : name === 'stroke' ? [state.strokeStyle] : [];
        calls.push([name, ...args, ...colour]);
      };
    },
    set: (_, name: string, value) => {
      state[name] = value;
      return true;
    },
  });
  return { pen: pen as never, calls };
}

const view = { scale: 0.5, corner: { x: 100, y: 200 } };

describe('the layers', () => {
  it('draw each arrow from its foot to its tip, dark below and light above', () => {
    const { pen, calls } = recordingPen();
    drawArrows(pen, [{ foot: { x: 300, y: 400 }, tip: { x: 300, y: 300 } }], view);
    expect(calls.filter(([name]) => name === 'moveTo')).toContainEqual(['moveTo', 100, 100]);
    expect(calls.filter(([name]) => name === 'moveTo')).toContainEqual(['moveTo', 100, 50]);
    const strokes = calls.filter(([name]) => name === 'stroke').map(([, colour]) => colour);
    expect(strokes[0]).toMatch(/^rgb\(10 11 13/);
    expect(strokes.at(-1)).toBe('#ffffff');
  });

  it('draw a displacement too short for an arrow as a dot', () => {
    const { pen, calls } = recordingPen();
    drawArrows(pen, [{ foot: { x: 300, y: 400 }, tip: { x: 301, y: 400 } }], view);
    expect(calls.filter(([name]) => name === 'arc')).toHaveLength(2);
    expect(calls.filter(([name]) => name === 'stroke')).toEqual([]);
  });

  it('draw used marks as dots in the colour of their eye with their residual, others as crosses', () => {
    const { pen, calls } = recordingPen();
    const used = sampleReading.evidence.marks.find((mark) => mark.used && mark.eye === 'left')!;
    drawMarks(pen, [used], view, 1000);
    const at = [0.5 * (used.photo_px[0] - 100), 0.5 * (used.photo_px[1] - 200)] as const;
    expect(calls).toContainEqual(['arc', ...at, 3.5, 0, 2 * Math.PI]);
    expect(calls).toContainEqual(['fill', OVERLAY_LEFT]);
    expect(calls).toContainEqual(['lineTo', at[0] + 500 * used.residual_px[0], at[1] + 500 * used.residual_px[1]]);
    const left = recordingPen();
    drawMarks(left.pen, [{ ...used, used: false }], view, 1000);
    expect(left.calls.some(([name]) => name === 'arc')).toBe(false);
    expect(left.calls.filter(([name]) => name === 'moveTo')).toHaveLength(3);
  });

  it('keep the words of the worst place within the stage', () => {
    const inside = recordingPen();
    labelWorst(inside.pen, { x: 300, y: 400 }, view, 'worst', 800, '13px serif');
    expect(inside.calls.find(([name]) => name === 'fillText')).toEqual(['fillText', 'worst', 118, 86]);
    const atTheRight = recordingPen();
    labelWorst(atTheRight.pen, { x: 1660, y: 400 }, view, 'worst', 800, '13px serif');
    expect(atTheRight.calls.find(([name]) => name === 'fillText')).toEqual(['fillText', 'worst', 682, 86]);
  });
});
