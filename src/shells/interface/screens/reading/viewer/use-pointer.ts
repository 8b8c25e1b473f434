/** Pointer, wheel and double click on the stage: zooming about the pointer, dragging, pointing at and choosing. */
import { type RefObject, useEffect, useRef } from 'react';
import type { Point } from '../../../../../kernel/point.ts';
import type { ViewportControl } from './use-viewport.ts';

export interface PointerListeners {
  readonly onPoint: (at: Point | undefined) => void;
  readonly onChoose: (at: Point) => void;
}

const PER_WHEEL_PX = 0.0016;
/** A wheel that turns by lines, or a pinch, which comes as a wheel with the control key, moves less per event. */
const LINE_PX = 30;
const PINCH = 6;
/** A press that moves less than this is a click. */
const CLICK_PX = 4;
const DOUBLE_CLICK_ZOOM = 2;

export function usePointer(
  ref: RefObject<HTMLElement | null>,
  { zoom, pan }: Pick<ViewportControl, 'zoom' | 'pan'>,
  listeners: PointerListeners,
): void {
  const latest = useRef(listeners);
  latest.current = listeners;
  useEffect(() => {
    const element = ref.current!;
    const stop = new AbortController();
    const { signal } = stop;
    const at = (event: MouseEvent): Point => {
      const { left, top } = element.getBoundingClientRect();
      return { x: event.clientX - left - element.clientLeft, y: event.clientY - top - element.clientTop };
    };
    let pressed: { readonly from: Point; last: Point; isDrag: boolean } | undefined;

    element.addEventListener(
      'wheel',
      (event) => {
        event.preventDefault();
        const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? LINE_PX : 1;
        zoom(Math.exp(-event.deltaY * lines * PER_WHEEL_PX * (event.ctrlKey ? PINCH : 1)), at(event));
      },
      { signal, passive: false },
    );
    element.addEventListener(
      'pointerdown',
      (event) => {
        if (event.button !== 0) return;
        element.setPointerCapture(event.pointerId);
        pressed = { from: at(event), last: at(event), isDrag: false };
      },
      { signal },
    );
    element.addEventListener(
      'pointermove',
      (event) => {
        const now = at(event);
        if (!pressed) return latest.current.onPoint(now);
        pressed.isDrag ||= Math.hypot(now.x - pressed.from.x, now.y - pressed.from.y) > CLICK_PX;
        if (!pressed.isDrag) return;
        element.dataset.dragging = '';
        pan(now.x - pressed.last.x, now.y - pressed.last.y);
        pressed.last = now;
      },
      { signal },
    );
    const release = (event: PointerEvent) => {
      delete element.dataset.dragging;
      if (pressed && !pressed.isDrag && event.type === 'pointerup') latest.current.onChoose(at(event));
      pressed = undefined;
    };
    element.addEventListener('pointerup', release, { signal });
    element.addEventListener('pointercancel', release, { signal });
    element.addEventListener('pointerleave', () => latest.current.onPoint(undefined), { signal });
    element.addEventListener(
      'dblclick',
      (event) => zoom(event.shiftKey ? 1 / DOUBLE_CLICK_ZOOM : DOUBLE_CLICK_ZOOM, at(event)),
      { signal },
    );
    return () => stop.abort();
  }, [ref, zoom, pan]);
}
