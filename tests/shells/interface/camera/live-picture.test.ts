import { describe, expect, it } from 'vitest';
import { drawMarks, type MarkContext } from '../../../../src/shells/interface/camera/live-picture.tsx';

interface Stroke {
  readonly colour: string;
  readonly rings: readonly (readonly [number, number])[];
  readonly corners: readonly (readonly [number, number])[];
}

/** A context that writes down what is drawn. */
function recorder() {
  const strokes: Stroke[] = [];
  let cleared = 0;
  let rings: [number, number][] = [];
  let corners: [number, number][] = [];
  const context = {
    lineWidth: 0,
    strokeStyle: '',
    clearRect: () => {
      cleared++;
    },
    beginPath: () => {
      rings = [];
      corners = [];
    },
    arc: (x: number, y: number) => rings.push([x, y]),
    moveTo: () => {},
    lineTo: (x: number, y: number) => corners.push([x, y]),
    closePath: () => {},
    stroke: () => strokes.push({ colour: context.strokeStyle, rings: [...rings], corners: [...corners] }),
  };
  return { context: context as unknown as MarkContext, strokes, cleared: () => cleared };
}

const COLOURS = { left: 'orange', right: 'blue', halo: 'black' };
const FRAME = { width: 1920, height: 1080 };

describe('marks over the picture', () => {
  it('stand where the frame has them, at the canvas’s size', () => {
    const { context, strokes, cleared } = recorder();
    const marks = [
      { id: 'a', eye: 'left', x: 959.5, y: 539.5 },
      { id: 'b', eye: 'right', x: -0.5, y: 1079.5 },
    ] as const;
    drawMarks(context, { width: 960, height: 540 }, FRAME, marks, COLOURS, 1);
    expect(cleared()).toBe(1);
    const ring = strokes.find(({ colour }) => colour === 'orange')!;
    expect(ring.rings).toEqual([[480, 270]]);
    expect(ring.corners).toEqual([]);
    const diamond = strokes.find(({ colour }) => colour === 'blue')!;
    expect(diamond.rings).toEqual([]);
    const mean = (axis: 0 | 1) => (diamond.corners[0]![axis] + diamond.corners[2]![axis]) / 2;
    expect(diamond.corners).toHaveLength(3);
    expect([mean(0), diamond.corners[1]![0]]).toEqual([0, 0]);
    expect(diamond.corners[0]![1]).toBe(540);
  });

  it('have a dark line beneath them', () => {
    const { context, strokes } = recorder();
    drawMarks(context, FRAME, FRAME, [{ id: 'a', eye: 'left', x: 1, y: 1 }], COLOURS, 2);
    expect(strokes.map(({ colour }) => colour).slice(0, 2)).toEqual(['black', 'orange']);
  });
});
