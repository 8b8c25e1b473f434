/** The viewport of a stage: fitted to the picture at first and after the stage changes, until somebody moves it. */
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { Point } from '../../../../../kernel/point.ts';
import type { StageSize } from './use-stage-size.ts';
import {
  bringIntoSight,
  fitRegion,
  keepInSight,
  panBy,
  type Region,
  type Size,
  type Viewport,
  zoomAbout,
} from './viewport.ts';

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
    const to = keepInSight(next(from, on), of, on);
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
    show: useCallback((p) => change((from, on) => bringIntoSight(from, p, on, SIGHT_MARGIN_PX)), [change]),
  };
}
