/** The live picture with the marks that were found in it. */
import { type Ref, type RefObject, useEffect, useImperativeHandle, useRef } from 'react';
import { translate } from '../../../wording/translate.ts';
import { drawMarks } from './draw-marks.ts';
import type { Judged } from './use-frames.ts';

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
