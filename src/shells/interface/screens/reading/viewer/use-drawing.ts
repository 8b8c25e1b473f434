/** Draws the stage when something changed, once for each frame of the screen at most. */
import { type RefObject, useEffect, useMemo } from 'react';
import type { ErrorMap } from '../../../../../drawings/error-map.ts';
import type { Arrow, StrayOutline, Viewport } from '../../../../../drawings/overlay-geometry.ts';
import {
  drawAim,
  drawArrows,
  drawMarks,
  drawOutline,
  drawStray,
  drawWorst,
  labelWorst,
} from '../../../../../drawings/overlay-layers.ts';
import type { Point } from '../../../../../kernel/point.ts';
import type { MarkEvidence } from '../../../../../record/reading.ts';
import { drawMap, drawMapNumbers } from '../layers/draw-map.ts';
import { createPainter } from './paint-photographs.ts';
import type { Photographs } from './use-photographs.ts';
import type { StageSize } from './use-viewport.ts';
import { factorAt, type ViewSettings } from './view-settings.ts';

export interface Scene {
  readonly photographs: Photographs | undefined;
  readonly settings: ViewSettings;
  readonly view: Viewport | undefined;
  readonly stage: StageSize | undefined;
  readonly outline: readonly Point[];
  readonly arrows: readonly Arrow[];
  readonly marks: readonly MarkEvidence[];
  readonly map: ErrorMap | undefined;
  readonly strays: readonly StrayOutline[];
  readonly worst: { readonly at: Point; readonly words: string };
  /** The mark that is pointed at, and the one whose evidence is shown. */
  readonly aimed: MarkEvidence | undefined;
  readonly chosen: MarkEvidence | undefined;
}

/** In parts of the root's size of letters, so that they grow with the operator's. */
const LETTERS_REM = 0.82;
const FAMILY = '"Source Sans 3", "Segoe UI", "Noto Sans", "Liberation Sans", "DejaVu Sans", sans-serif';
const GROUND = '#0a0b0d';

export function useDrawing(ref: RefObject<HTMLCanvasElement | null>, scene: Scene): void {
  const { photographs, settings, view, stage, outline, arrows, marks, map, worst, strays, aimed, chosen } = scene;
  const painter = useMemo(() => photographs && createPainter(photographs), [photographs]);
  useEffect(() => {
    const canvas = ref.current;
    if (!canvas || !view || !stage) return undefined;
    let frame = 0;
    const draw = () => {
      const { width, height, density } = stage;
      const [w, h] = [Math.round(width * density), Math.round(height * density)];
      if (canvas.width !== w || canvas.height !== h) [canvas.width, canvas.height] = [w, h];
      const pen = canvas.getContext('2d', { alpha: false })!;
      pen.setTransform(1, 0, 0, 1, 0, 0);
      pen.fillStyle = GROUND;
      pen.fillRect(0, 0, w, h);
      painter?.setBrightness(2 ** settings.stops);
      const isComplete = painter ? paint(painter, pen, settings, view, stage) : true;
      pen.setTransform(density, 0, 0, density, 0, 0);
      const { layers } = settings;
      const rem_px = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
      const font = `600 ${LETTERS_REM * rem_px}px ${FAMILY}`;
      if (layers.map && map) drawMap(pen, map, view);
      drawOutline(pen, outline, view);
      if (layers.strays) for (const stray of strays) drawStray(pen, stray, view, width, font);
      if (layers.marks) drawMarks(pen, marks, view, factorAt(settings.residualFactor));
      if (layers.arrows) drawArrows(pen, arrows, view);
      if (layers.map && map) drawMapNumbers(pen, map, view, stage, font);
      if (layers.worst) {
        drawWorst(pen, worst.at, view);
        labelWorst(pen, worst.at, view, worst.words, width, font);
      }
      if (chosen) drawAim(pen, pointOf(chosen), view, 16);
      if (aimed && aimed !== chosen) drawAim(pen, pointOf(aimed), view, 12);
      canvas.ariaBusy = String(!isComplete);
      if (!isComplete) frame = requestAnimationFrame(draw);
    };
    canvas.ariaBusy = 'true';
    frame = requestAnimationFrame(draw);
    return () => cancelAnimationFrame(frame);
  }, [ref, painter, settings, view, stage, outline, arrows, marks, map, worst, strays, aimed, chosen]);
}

const pointOf = ({ photo_px: [x, y] }: MarkEvidence): Point => ({ x, y });

function paint(
  painter: ReturnType<typeof createPainter>,
  pen: CanvasRenderingContext2D,
  { mode, blinkShows, wipe }: ViewSettings,
  view: Viewport,
  stage: StageSize,
): boolean {
  const { density } = stage;
  if (mode !== 'wipe') return painter.paint(pen, mode === 'blink' ? blinkShows : mode, view, stage, density);
  const edge = Math.round(wipe * pen.canvas.width);
  const half = (shown: 'left' | 'right', from: number, to: number) => {
    pen.save();
    pen.beginPath();
    pen.rect(from, 0, to - from, pen.canvas.height);
    pen.clip();
    const isComplete = painter.paint(pen, shown, view, stage, density);
    pen.restore();
    return isComplete;
  };
  const isLeftComplete = half('left', 0, edge);
  return half('right', edge, pen.canvas.width) && isLeftComplete;
}
