import { describe, expect, it } from 'vitest';
import { frameMarks } from '../../../../../src/shells/interface/screens/shots/frame-marks.ts';

const grid = (x0: number, x1: number, y0: number, y1: number) =>
  [0, 0.5, 1].flatMap((u) => [0, 0.5, 1].map((v) => ({ x: x0 + u * (x1 - x0), y: y0 + v * (y1 - y0) })));

describe('the part of a photograph that is shown', () => {
  it('is all of it where hardly any marks were found', () => {
    expect(frameMarks([{ x: 5, y: 5 }], 400, 300)).toEqual({ x: -0.5, y: -0.5, width: 400, height: 300 });
  });

  it('is the region of the marks with a tenth of its width around it', () => {
    expect(frameMarks(grid(1000, 3000, 1000, 1900), 4000, 3000)).toEqual({ x: 800, y: 800, width: 2400, height: 1300 });
  });

  it('never reaches beyond the photograph', () => {
    expect(frameMarks(grid(0, 399, 0, 299), 400, 300)).toEqual({ x: -0.5, y: -0.5, width: 400, height: 300 });
  });
});
