/** The misalignment that one frame without glasses shows, from the marks of both eyes as they were followed. */
import { estimateDifference, type PlacedMark } from '../../geometry/estimate-difference.ts';
import { EYES } from '../../kernel/eye.ts';
import type { Point } from '../../kernel/point.ts';
import { pixelsPerHeight, project, projectDerivative, type View } from '../../kernel/view.ts';
import type { FrameReading } from '../../turns/follow-turns.ts';
import type { SeenTarget } from './follow-target.ts';

/** The place of a mark on the chart by the view; two steps of Newton's method leave nothing of a few per cent. */
const STEPS = 2;

/** `undefined` where the frame does not show enough of both pictures. */
export function measureFrame({ view, marks }: SeenTarget, aspect: number): FrameReading | undefined {
  const placed = EYES.flatMap((eye) =>
    marks[eye].map(({ mark, centre }): PlacedMark => ({ eye, at: mark, shift: shiftOf(view, mark, centre) })),
  );
  const estimate = estimateDifference(placed, aspect);
  if (estimate.outcome === 'refused') return undefined;
  const { terms, covariance } = estimate;
  return { terms, covariance, middle: middleOf(view, placed) };
}

/** Photo coordinates run downwards, those of the picture upwards. */
function middleOf(view: View, placed: readonly PlacedMark[]): Point {
  const centre = project(view, { x: 0, y: 0 });
  const ih_px = pixelsPerHeight(view);
  const mean = (axis: 'x' | 'y') => {
    const [left, right] = EYES.map((eye) => {
      const own = placed.filter((mark) => mark.eye === eye);
      return own.reduce((sum, { shift }) => sum + shift[axis], 0) / own.length;
    });
    return (left! + right!) / 2;
  };
  return { x: centre.x / ih_px + mean('x'), y: -centre.y / ih_px + mean('y') };
}

/** How far from its place on the chart a mark is seen, ih. */
function shiftOf(view: View, at: Point, seen: Point): Point {
  let place = at;
  for (let step = 0; step < STEPS; step++) {
    const expected = project(view, place);
    const [xx, xy, yx, yy] = projectDerivative(view, place);
    const [dx, dy] = [seen.x - expected.x, seen.y - expected.y];
    const determinant = xx * yy - xy * yx;
    place = { x: place.x + (yy * dx - xy * dy) / determinant, y: place.y + (xx * dy - yx * dx) / determinant };
  }
  return { x: place.x - at.x, y: place.y - at.y };
}
