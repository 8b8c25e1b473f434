/** The viewport of a stage: fitted to the picture at first and after the stage changes, until somebody moves it. */
import {
  type RefObject,
  useCallback,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
  useSyncExternalStore,
} from 'react';
import type { Point } from '../../../../../kernel/point.ts';
import type { Region, Size, Viewport } from '../../../../../drawings/overlay-geometry.ts';
import { bringIntoView, fitRegion, keepInView, panBy, zoomAbout } from './viewport.ts';

export interface ViewportControl {
  readonly view: Viewport | undefined;
  /** About a screen point, or the middle of the stage. */
  readonly zoom: (factor: number, about?: Point) => void;
  readonly pan: (dx: number, dy: number) => void;
  readonly fit: () => void;
  /** One photo pixel on one pixel of the screen. */
  readonly showActualSize: () => void;
  readonly show: (p: Point) => void;
}

const SIGHT_MARGIN_PX = 60;

export function useViewport(stage: StageSize | undefined, photo: Size, picture: Region): ViewportControl {
  const [moved, setMoved] = useState<Viewport>();
  const fitted = useMemo(() => (stage ? fitRegion(picture, stage) : undefined), [stage, picture]);
  const view = moved ?? fitted;
  const latest = useRef({ view, stage, photo });
  latest.current = { view, stage, photo };
  useEffect(() => setMoved(undefined), [picture]);

  const change = useCallback((next: (view: Viewport, stage: StageSize) => Viewport) => {
    const { view: from, stage: on, photo: of } = latest.current;
    if (!from || !on) return;
    const to = keepInView(next(from, on), of, on);
    latest.current.view = to;
    setMoved(to);
  }, []);

  return {
    view,
    zoom: useCallback(
      (factor, about) =>
        change((from, on) =>
          zoomAbout(from, about ?? { x: on.width / 2, y: on.height / 2 }, factor, latest.current.photo, on),
        ),
      [change],
    ),
    pan: useCallback((dx, dy) => change((from) => panBy(from, dx, dy)), [change]),
    fit: useCallback(() => setMoved(undefined), []),
    showActualSize: useCallback(
      () =>
        change((from, on) =>
          zoomAbout(from, { x: on.width / 2, y: on.height / 2 }, 1 / on.density / from.scale, latest.current.photo, on),
        ),
      [change],
    ),
    show: useCallback((p) => change((from, on) => bringIntoView(from, p, on, SIGHT_MARGIN_PX)), [change]),
  };
}

/** Pointer, wheel and double click on the stage: zooming about the pointer, dragging, pointing at and choosing. */

interface PointerListeners {
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

/** Size of an element in CSS pixels and device pixels for one of them, followed as it changes. */

export interface StageSize extends Size {
  readonly density: number;
}

export function useStageSize(ref: RefObject<HTMLElement | null>): StageSize | undefined {
  const [size, setSize] = useState<StageSize>();
  useLayoutEffect(() => {
    const element = ref.current!;
    const measure = () => {
      const { clientWidth: width, clientHeight: height } = element;
      if (width > 0 && height > 0) setSize({ width, height, density: window.devicePixelRatio || 1 });
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [ref]);
  return size;
}

/** Whether the system asks for as little motion as possible; followed as it changes. */

const query = () => matchMedia('(prefers-reduced-motion: reduce)');

export function useReducedMotion(): boolean {
  return useSyncExternalStore(
    (onChange) => {
      const list = query();
      list.addEventListener('change', onChange);
      return () => list.removeEventListener('change', onChange);
    },
    () => query().matches,
  );
}
