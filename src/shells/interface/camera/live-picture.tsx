/** The live picture with the marks that were found in it. */
import { type Ref, type RefObject, useEffect, useImperativeHandle, useRef } from 'react';
import { translate } from '../../../wording/translate.ts';
import type { Judged } from './use-frames.ts';
import { EYES } from '../../../kernel/eye.ts';
import type { SeenMark } from '../../../contract/shots.ts';
import type { Size } from './camera-choice.ts';

export interface MarksOverlay {
  /** Draws at once, without drawing the page anew. */
  show(judged: Judged): void;
}

export interface LivePictureProps {
  readonly stream: MediaStream | undefined;
  readonly video: RefObject<HTMLVideoElement | null>;
  readonly overlay: Ref<MarksOverlay>;
}

/** Told on the canvas for every verdict that was drawn, to whoever measures the delay. */
const DRAWN_EVENT = 'verdictdrawn';

export function LivePicture({ stream, video, overlay }: LivePictureProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const element = video.current!;
    element.srcObject = stream ?? null;
    // Playing is asked for by the attribute as well; a refusal would come a second time there.
    if (stream) element.play().catch(() => {});
  }, [stream, video]);
  useEffect(() => {
    if (!stream) clear(canvas.current!);
  }, [stream]);
  useImperativeHandle(overlay, () => ({ show: (judged) => draw(canvas.current!, judged) }), []);
  return (
    <div className="camera-picture">
      <video ref={video} autoPlay muted playsInline disablePictureInPicture aria-label={translate('camera.picture')} />
      <canvas ref={canvas} />
    </div>
  );
}

function draw(canvas: HTMLCanvasElement, { verdict, frame, frameAt_ms }: Judged): void {
  const density = devicePixelRatio;
  const width = Math.round(canvas.clientWidth * density);
  const height = Math.round(canvas.clientHeight * density);
  if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
  const style = getComputedStyle(canvas);
  const colour = (name: string) => style.getPropertyValue(`--camera-${name}`);
  const colours = { left: colour('left'), right: colour('right'), halo: colour('halo') };
  drawMarks(canvas.getContext('2d')!, canvas, frame, verdict.marks, colours, density);
  const { serial, analysis_ms } = verdict;
  const delay_ms = performance.timeOrigin + performance.now() - frameAt_ms;
  canvas.dispatchEvent(new CustomEvent(DRAWN_EVENT, { detail: { serial, analysis_ms, delay_ms }, bubbles: true }));
}

function clear(canvas: HTMLCanvasElement): void {
  canvas.getContext('2d')!.clearRect(0, 0, canvas.width, canvas.height);
}

/** Marks over the live picture, as everywhere: rings for the left eye's, diamonds for the right eye's. */

/** What is used of a canvas's context. */
export type MarkContext = Pick<
  CanvasRenderingContext2D,
  'clearRect' | 'beginPath' | 'arc' | 'moveTo' | 'lineTo' | 'closePath' | 'stroke' | 'lineWidth' | 'strokeStyle'
>;

interface MarkColours {
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
