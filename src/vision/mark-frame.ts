/** Where one mark's crossing should be seen, and in what shape: what fitting starts from. */
import type { Point } from '../kernel/point.ts';
import { project, projectDerivative, type View } from '../kernel/view.ts';
import { BRIGHT_AXIS_DEG, MARK_PROPORTIONS, type Mark } from '../target/chart.ts';

/**
 * The frame of a mark as seen: chart directions 45 degrees clockwise (f1) and counter-clockwise (f2) of the bright
 * axis, times the crossing's radius, in photo px. The bright quadrants are where s t > 0 in p = c + s a1 + t a2.
 */
export interface MarkFrame {
  readonly centre: Point;
  readonly a1: Point;
  readonly a2: Point;
}

export function predictFrame(view: View, mark: Mark): MarkFrame {
  const [xx, xy, yx, yy] = projectDerivative(view, mark);
  const axis = (BRIGHT_AXIS_DEG[mark.eye] * Math.PI) / 180;
  const length = MARK_PROPORTIONS.crossing * mark.radius;
  const seen = (angle: number): Point => {
    const x = length * Math.cos(angle);
    const y = length * Math.sin(angle);
    return { x: xx * x + xy * y, y: yx * x + yy * y };
  };
  return { centre: project(view, mark), a1: seen(axis - Math.PI / 4), a2: seen(axis + Math.PI / 4) };
}

/** Half the width and height of the box around the seen crossing, px. */
export function frameExtent({ a1, a2 }: MarkFrame): Point {
  return { x: Math.hypot(a1.x, a2.x), y: Math.hypot(a1.y, a2.y) };
}
