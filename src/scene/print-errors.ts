/**
 * How a print differs from the chart: every mark by itself, smoothly over each picture, and one picture against the other.
 * No photograph of the print shows it. Lengths in ih.
 */
import type { Eye } from '../kernel/eye.ts';
import type { Point } from '../kernel/point.ts';
import { createRandom } from '../kernel/random.ts';
import type { Shape } from '../target/shapes.ts';
import { isArc } from '../target/shapes.ts';
import { drawSmoothField } from './smooth-noise.ts';

export interface PrintErrors {
  readonly seed: number;
  /** Standard deviation of each mark's place, in each direction, apart from its neighbours. */
  readonly mark_ih: number;
  /** Standard deviation of what neighbouring marks share, and how far that reaches. */
  readonly smooth_ih: number;
  readonly smoothLength_ih: number;
  /** Right-eye picture minus left-eye picture, as they stand on the print. */
  readonly eyeAgainstEye_ih: Point;
}

/** The shapes where the print has them. Arcs must have been flattened. */
export function misprint(shapes: readonly Shape[], eye: Eye, errors: PrintErrors): Shape[] {
  const random = createRandom(errors.seed).fork(eye === 'left' ? 1 : 2);
  const smooth = drawSmoothField(random.fork(1), errors.smooth_ih, errors.smoothLength_ih);
  const half = eye === 'left' ? -0.5 : 0.5;
  const own = new Map<string, Point>();
  const marks = random.fork(2);
  return shapes.map((shape) => {
    if (shape.part === 'picture-area') return shape;
    let shift = own.get(shape.part);
    if (!shift) {
      shift = { x: errors.mark_ih * marks.normal(), y: errors.mark_ih * marks.normal() };
      own.set(shape.part, shift);
    }
    const { x: sx, y: sy } = shift;
    const move = (p: Point) => {
      const field = smooth(p);
      return {
        x: p.x + sx + field.x + half * errors.eyeAgainstEye_ih.x,
        y: p.y + sy + field.y + half * errors.eyeAgainstEye_ih.y,
      };
    };
    const contours = shape.contours.map((contour) =>
      contour.map((piece) => {
        if (isArc(piece)) throw new RangeError('arcs are flattened before they are misprinted');
        return move(piece);
      }),
    );
    return { ...shape, contours };
  });
}
