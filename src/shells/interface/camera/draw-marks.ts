/** Marks over the live picture, as everywhere: rings for the left eye's, diamonds for the right eye's. */
import { EYES } from '../../../kernel/eye.ts';
import type { SeenMark } from '../../../contract/shots.ts';
import type { Size } from './camera-choice.ts';

/** What is used of a canvas's context. */
export type MarkContext = Pick<
  CanvasRenderingContext2D,
  'clearRect' | 'beginPath' | 'arc' | 'moveTo' | 'lineTo' | 'closePath' | 'stroke' | 'lineWidth' | 'strokeStyle'
>;

export interface MarkColours {
  readonly left: string;
  readonly right: string;
  /** Drawn beneath, so that a line stands out from white and from black. */
  readonly halo: string;
}

/** Radius of a ring, canvas px at one px per px of the page. */
const RADIUS = 7;

/** Marks are in px of the frame, which the canvas shows whole. `density`: canvas px per px of the page. */
export function drawMarks(
  context: MarkContext,
  canvas: Size,
  frame: Size,
  marks: readonly SeenMark[],
  colours: MarkColours,
  density: number,
): void {
  context.clearRect(0, 0, canvas.width, canvas.height);
  // The centre of the frame's first pixel is 0, 0; a canvas counts from its corner.
  const place = ({ x, y }: SeenMark) => ({
    x: ((x + 0.5) * canvas.width) / frame.width,
    y: ((y + 0.5) * canvas.height) / frame.height,
  });
  for (const eye of EYES) {
    context.beginPath();
    for (const mark of marks) {
      if (mark.eye !== eye) continue;
      const { x, y } = place(mark);
      (eye === 'left' ? ring : diamond)(context, x, y, RADIUS * density);
    }
    context.lineWidth = 4 * density;
    context.strokeStyle = colours.halo;
    context.stroke();
    context.lineWidth = 2 * density;
    context.strokeStyle = colours[eye];
    context.stroke();
  }
}

function ring(context: MarkContext, x: number, y: number, radius: number): void {
  context.moveTo(x + radius, y);
  context.arc(x, y, radius, 0, 2 * Math.PI);
}

function diamond(context: MarkContext, x: number, y: number, radius: number): void {
  const reach = 1.25 * radius;
  context.moveTo(x, y - reach);
  context.lineTo(x + reach, y);
  context.lineTo(x, y + reach);
  context.lineTo(x - reach, y);
  context.closePath();
}
