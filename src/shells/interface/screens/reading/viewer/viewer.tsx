/** The two photographs of a reading, laid over each other, with what was measured drawn on them: the screen's main thing. */
import { type KeyboardEvent, useCallback, useEffect, useId, useMemo, useRef, useState } from 'react';
import type { ErrorMap } from '../../../../../drawings/error-map.ts';
import {
  makeArrow,
  outlinePicture,
  outlineStray,
  pixelsPerPercent,
  type Region,
  screenFromPhoto,
  viewOf,
} from '../../../../../drawings/overlay-geometry.ts';
import type { Point } from '../../../../../kernel/point.ts';
import { project } from '../../../../../kernel/view.ts';
import type { MarkEvidence, MeasuredReading } from '../../../../../record/reading.ts';
import { listShownShots } from '../../../../../record/shown-shots.ts';
import { arcminutesFrom, type Units } from '../../../../../wording/lengths.ts';
import { formatFigures } from '../../../../../wording/numbers.ts';
import { translate } from '../../../../../wording/translate.ts';
import { Progress } from '../../../parts/notice.tsx';
import {
  formatMark,
  keyOfMark,
  type Move,
  markNear,
  moveAmongMarks,
  orderMarks,
  joinMarkWords,
} from '../layers/marks.ts';
import { MapLegend, ScaleLegend } from './legends.tsx';
import { MarkCard, MarkList } from './mark-list.tsx';
import { useDrawing } from './use-drawing.ts';
import type { PhotographsState } from './use-photographs.ts';
import { usePointer, useReducedMotion, useStageSize, useViewport } from './use-viewport.ts';
import { actionOfKey, chooseSettings, factorAt, type ViewSettings } from './view-settings.ts';
import { BlinkControl, Divider, LayerTools, ViewTools } from './viewer-tools.tsx';
import { photoFromScreen } from './viewport.ts';
import './viewer.css';

export interface ViewerProps {
  readonly reading: MeasuredReading;
  readonly photographs: PhotographsState;
  readonly map: ErrorMap | undefined;
  /** Name of the seat from which the map is seen, its distance in picture heights, and the working limit there. */
  readonly seat: string;
  readonly distance_ih: number;
  readonly limit_arcmin: number | null;
  readonly units: Units;
  readonly chosen: MarkEvidence | undefined;
  readonly onChoose: (mark: MarkEvidence | undefined) => void;
}

/** A mark is meant within this distance of the pointer. */
const POINTING_PX = 14;
/** Free space around the picture, in picture heights. */
const MARGIN_IH = 0.07;

export function Viewer(props: ViewerProps) {
  const { reading, photographs, map, seat, distance_ih, limit_arcmin, units, chosen, onChoose } = props;
  const { evidence, house, misalignment } = reading;
  const stageRef = useRef<HTMLDivElement>(null);
  const canvasRef = useRef<HTMLCanvasElement>(null);
  const keysId = useId();
  const isMotionReduced = useReducedMotion();

  const perPercent = useMemo(() => pixelsPerPercent(reading), [reading]);
  const [settings, setSettings] = useState(() => chooseSettings(reading, perPercent));
  const change = useCallback((to: Partial<ViewSettings>) => setSettings((now) => ({ ...now, ...to })), []);
  const marks = useMemo(() => orderMarks(evidence.marks), [evidence]);
  const left = useMemo(() => viewOf(evidence, 'left'), [evidence]);
  const outline = useMemo(() => outlinePicture(left, house.aspect), [left, house]);
  const picture = useMemo(() => regionAround(outline, 100 * MARGIN_IH * perPercent), [outline, perPercent]);
  const factor = factorAt(settings.arrowFactor);
  const arrows = useMemo(() => evidence.field.map((point) => makeArrow(point, left, factor)), [evidence, left, factor]);
  const worst = useMemo(() => {
    const { value, at } = misalignment.worst_vertical_pct;
    const words = translate('reading.worst-label', {
      percent: formatFigures(Math.abs(value)),
      arcmin: formatFigures(Math.abs(arcminutesFrom(value, distance_ih))),
    });
    return { at: project(left, { x: at[0], y: at[1] }), words };
  }, [misalignment, left, distance_ih]);

  const strays = useMemo(() => (reading.strays ?? []).map((stray) => outlineStray(stray, reading)), [reading]);

  const stage = useStageSize(stageRef);
  const shownShots = useMemo(() => listShownShots(reading), [reading]);
  const isOne = shownShots.length === 1;
  const shot = shownShots[0] ?? reading.shots[0]!;
  const photo = useMemo(() => ({ width: shot.width_px, height: shot.height_px }), [shot]);
  const control = useViewport(stage, photo, picture);
  const { view, zoom, pan, show } = control;

  const [pointed, setPointed] = useState<MarkEvidence>();
  const [active, setActive] = useState<number>();
  useEffect(() => setActive(undefined), [marks]);
  const aimed = pointed ?? (active === undefined ? undefined : marks[active]);
  const markAt = (at: Point) => view && markNear(marks, photoFromScreen(view, at), POINTING_PX / view.scale);
  usePointer(canvasRef, control, {
    onPoint: (at) => setPointed(at && markAt(at)),
    onChoose: (at) => {
      const mark = markAt(at);
      if (!mark) return;
      setActive(marks.indexOf(mark));
      onChoose(mark);
    },
  });
  const latest = useRef(active);
  latest.current = active;
  const move = useCallback(
    (to: Move) => {
      const next = latest.current === undefined ? 0 : moveAmongMarks(marks, latest.current, to);
      const [x, y] = marks[next]!.photo_px;
      setActive(next);
      show({ x, y });
    },
    [marks, show],
  );
  const beginWithFirst = useCallback(() => setActive((now) => now ?? 0), []);

  useBlinking(settings, isMotionReduced, setSettings);
  useDrawing(canvasRef, {
    photographs: photographs.state === 'ready' ? photographs.photographs : undefined,
    settings,
    view,
    stage,
    outline,
    arrows,
    marks,
    map,
    worst,
    strays,
    aimed,
    chosen,
  });

  const press = (event: KeyboardEvent) => {
    if (event.target !== event.currentTarget) return;
    const action = actionOfKey(event);
    if (!action) return;
    event.preventDefault();
    if (action.type === 'zoom') zoom(action.factor);
    else if (action.type === 'pan') pan(action.dx, action.dy);
    else if (action.type === 'fit') control.fit();
    else if (action.type === 'actual-size') control.showActualSize();
    else if (action.type === 'mark') move(action.move);
    else if (action.type === 'exchange')
      setSettings((now) => ({ ...now, blinkShows: now.blinkShows === 'left' ? 'right' : 'left' }));
    else if (action.type === 'choose') onChoose(aimed);
    else {
      setActive(undefined);
      onChoose(undefined);
    }
  };

  const words = aimed && formatMark(aimed, house.aspect);
  const aimedAt = aimed && view && screenFromPhoto(view, { x: aimed.photo_px[0], y: aimed.photo_px[1] });
  return (
    <section className="reading-viewer" aria-label={translate(isOne ? 'reading.viewer-one' : 'reading.viewer')}>
      <ViewTools
        mode={isOne ? null : settings.mode}
        isMotionReduced={isMotionReduced}
        onChange={change}
        zoom={zoom}
        fit={control.fit}
        showActualSize={control.showActualSize}
      />
      <div
        ref={stageRef}
        className="reading-stage"
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: moved and enlarged with the keys
        tabIndex={0}
        aria-label={translate('reading.stage')}
        aria-describedby={keysId}
        data-scale={view?.scale}
        data-corner={view && `${view.corner.x} ${view.corner.y}`}
        onKeyDown={press}
      >
        <canvas ref={canvasRef} role="img" aria-label={translate(isOne ? 'reading.canvas-one' : 'reading.canvas')} />
        <MarkList
          marks={marks}
          aspect={house.aspect}
          active={active}
          chosen={chosen && keyOfMark(chosen)}
          onMove={move}
          onChoose={onChoose}
          onFocus={beginWithFirst}
        />
        {settings.mode === 'wipe' && <Divider at={settings.wipe} onMove={(wipe) => change({ wipe })} />}
        {words && aimedAt && stage && <MarkCard words={words} eye={aimed.eye} at={aimedAt} stage={stage} />}
        {settings.mode === 'blink' && (
          <BlinkControl settings={settings} isMotionReduced={isMotionReduced} onChange={change} />
        )}
        {photographs.state !== 'ready' && (
          <div className="reading-stage-state">
            {photographs.state === 'loading' ? (
              <Progress label={translate('reading.photographs-coming')} fraction={photographs.fraction} />
            ) : (
              <p role="status">{translate('reading.photographs-missing')}</p>
            )}
          </div>
        )}
        <p className="unseen" id={keysId}>
          {translate('reading.stage-keys')}
        </p>
        <p className="unseen" role="status">
          {words && active !== undefined && !pointed ? joinMarkWords(words) : ''}
        </p>
      </div>
      <div className="reading-caption">
        {settings.layers.map && map && <MapLegend map={map} seat={seat} limit_arcmin={limit_arcmin} />}
        {view && (
          <ScaleLegend
            settings={settings}
            house={house}
            units={units}
            scale={view.scale}
            pixelsPerPercent={perPercent}
          />
        )}
        <span className="reading-soft">{translate('reading.stage-hint')}</span>
      </div>
      <LayerTools settings={settings} hasStrays={strays.length > 0} onChange={change} />
    </section>
  );
}

/** Exchanges the two photographs at the set pace; under reduced motion only a button does. */
function useBlinking(
  { mode, pace_hz }: ViewSettings,
  isMotionReduced: boolean,
  setSettings: (change: (now: ViewSettings) => ViewSettings) => void,
): void {
  useEffect(() => {
    if (mode !== 'blink' || isMotionReduced) return undefined;
    const timer = setInterval(
      () => setSettings((now) => ({ ...now, blinkShows: now.blinkShows === 'left' ? 'right' : 'left' })),
      1000 / pace_hz,
    );
    return () => clearInterval(timer);
  }, [mode, pace_hz, isMotionReduced, setSettings]);
}

function regionAround(points: readonly Point[], margin: number): Region {
  const xs = points.map(({ x }) => x);
  const ys = points.map(({ y }) => y);
  const [x, y] = [Math.min(...xs) - margin, Math.min(...ys) - margin];
  return { x, y, width: Math.max(...xs) + margin - x, height: Math.max(...ys) + margin - y };
}
