/** Which photograph is shown, and how large. */
import { type KeyboardEvent, memo, type PointerEvent, useId, useRef } from 'react';
import { translate } from '../../../../../wording/translate.ts';
import { Button } from '../../../parts/button.tsx';
import { Choice } from '../../../parts/field.tsx';
import { EXAGGERATIONS } from '../../../../../drawings/scale.ts';
import type { ViewportControl } from './use-viewport.ts';
import { factorAt, type Layer, type Mode, MODES, PACE_HZ, STOPS, type ViewSettings } from './view-settings.ts';

interface ViewToolsProps extends Pick<ViewportControl, 'zoom' | 'fit' | 'showActualSize'> {
  /** Null where one photograph shows both pictures, and there is nothing to choose. */
  readonly mode: Mode | null;
  readonly isMotionReduced: boolean;
  readonly onChange: (change: Partial<ViewSettings>) => void;
}

const STEP = 1.5;

export const ViewTools = memo(function ViewTools(props: ViewToolsProps) {
  const { mode, isMotionReduced, onChange, zoom, fit, showActualSize } = props;
  return (
    <div className="reading-tools">
      {mode === null ? (
        <p className="reading-soft reading-one-exposure">{translate('reading.one-exposure')}</p>
      ) : (
        <Choice
          label={translate('reading.mode')}
          options={MODES.map((value) => ({
            value,
            label: translate(value === 'blink' && isMotionReduced ? 'reading.mode-switch' : `reading.mode-${value}`),
          }))}
          value={mode}
          onChange={(value) => onChange({ mode: value })}
        />
      )}
      <fieldset className="reading-zoom">
        <legend className="unseen">{translate('reading.zoom')}</legend>
        <Button keys="-" name={translate('reading.smaller')} onClick={() => zoom(1 / STEP)}>
          −
        </Button>
        <Button keys="+" name={translate('reading.larger')} onClick={() => zoom(STEP)}>
          +
        </Button>
        <Button keys="0" onClick={fit}>
          {translate('reading.fit')}
        </Button>
        <Button keys="1" name={translate('reading.actual-size')} onClick={showActualSize}>
          {translate('reading.actual-size-short')}
        </Button>
      </fieldset>
    </div>
  );
});

/** What is drawn over the photographs, how much exaggerated, and how bright they are. */

interface LayerToolsProps {
  readonly settings: ViewSettings;
  /** Copies of a picture were found. */
  readonly hasStrays: boolean;
  readonly onChange: (change: Partial<ViewSettings>) => void;
}

export const LayerTools = memo(function LayerTools({ settings, hasStrays, onChange }: LayerToolsProps) {
  const { layers, arrowFactor, residualFactor, stops } = settings;
  const check = (layer: Layer) => (
    <label className="reading-check">
      <input
        type="checkbox"
        checked={layers[layer]}
        onChange={(event) => onChange({ layers: { ...layers, [layer]: event.target.checked } })}
      />
      {translate(`reading.layer-${layer}`)}
    </label>
  );
  const factor = (label: string, value: number, change: (index: number) => Partial<ViewSettings>) => (
    <Slider
      label={label}
      value={value}
      min={0}
      max={EXAGGERATIONS.length - 1}
      step={1}
      words={translate('reading.times', { factor: factorAt(value) })}
      onChange={(index) => onChange(change(index))}
    />
  );
  return (
    <fieldset className="reading-layers">
      <legend className="unseen">{translate('reading.layers')}</legend>
      <div>
        {check('arrows')}
        {factor(translate('reading.arrow-factor'), arrowFactor, (index) => ({ arrowFactor: index }))}
      </div>
      <div>
        {check('marks')}
        {factor(translate('reading.residual-factor'), residualFactor, (index) => ({ residualFactor: index }))}
      </div>
      <div>
        {check('map')}
        {check('worst')}
        {hasStrays && check('strays')}
      </div>
      <div>
        <Slider
          label={translate('reading.brightness')}
          value={stops}
          min={STOPS.min}
          max={STOPS.max}
          step={STOPS.step}
          words={translate('reading.brightness-value', { factor: 2 ** stops })}
          onChange={(value) => onChange({ stops: value })}
        />
      </div>
    </fieldset>
  );
});

/** How fast the two photographs are exchanged; under reduced motion a button that exchanges them. */

interface BlinkControlProps {
  readonly settings: Pick<ViewSettings, 'pace_hz' | 'blinkShows'>;
  readonly isMotionReduced: boolean;
  readonly onChange: (change: Partial<ViewSettings>) => void;
}

export function BlinkControl({ settings: { pace_hz, blinkShows }, isMotionReduced, onChange }: BlinkControlProps) {
  return (
    <div className="reading-blink">
      {isMotionReduced ? (
        <Button keys="b" onClick={() => onChange({ blinkShows: blinkShows === 'left' ? 'right' : 'left' })}>
          {translate('reading.show-other', { now: blinkShows })}
        </Button>
      ) : (
        <Slider
          label={translate('reading.pace')}
          value={pace_hz}
          min={PACE_HZ.min}
          max={PACE_HZ.max}
          step={PACE_HZ.step}
          words={translate('reading.pace-value', { hz: pace_hz })}
          onChange={(value) => onChange({ pace_hz: value })}
        />
      )}
    </div>
  );
}

/** The line between the two photographs of a wiped stage: dragged, or moved with the arrow keys. */

interface DividerProps {
  /** Share of the stage left of it. */
  readonly at: number;
  readonly onMove: (at: number) => void;
}

const DIVIDER_STEP = 0.02;
const LARGE_STEP = 0.1;
const STEPS: Readonly<Record<string, number>> = {
  ArrowLeft: -DIVIDER_STEP,
  ArrowDown: -DIVIDER_STEP,
  ArrowRight: DIVIDER_STEP,
  ArrowUp: DIVIDER_STEP,
  PageDown: -LARGE_STEP,
  PageUp: LARGE_STEP,
  Home: -1,
  End: 1,
};

export function Divider({ at, onMove }: DividerProps) {
  const ref = useRef<HTMLDivElement>(null);
  const move = (to: number) => onMove(Math.min(1, Math.max(0, to)));
  const press = (event: KeyboardEvent) => {
    const step = STEPS[event.key];
    if (step === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    move(at + step);
  };
  const drag = (event: PointerEvent<HTMLDivElement>) => {
    if (!ref.current?.hasPointerCapture(event.pointerId)) return;
    const { left, width } = ref.current.parentElement!.getBoundingClientRect();
    move((event.clientX - left) / width);
  };
  const percent = Math.round(100 * at);
  return (
    <div
      ref={ref}
      className="reading-divider"
      role="slider"
      tabIndex={0}
      aria-label={translate('reading.divider')}
      aria-valuemin={0}
      aria-valuemax={100}
      aria-valuenow={percent}
      aria-valuetext={translate('reading.divider-value', { percent })}
      style={{ left: `${100 * at}%` }}
      onKeyDown={press}
      onPointerDown={(event) => ref.current?.setPointerCapture(event.pointerId)}
      onPointerMove={drag}
    >
      <svg viewBox="0 0 24 24" aria-hidden="true">
        <path d="M9 6 3 12l6 6M15 6l6 6-6 6" fill="none" stroke="currentColor" strokeWidth="2.4" />
      </svg>
    </div>
  );
}

/** A number on a scale, with what it means beside it. */

interface SliderProps {
  readonly label: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  /** The value in words. */
  readonly words: string;
  readonly onChange: (value: number) => void;
}

function Slider({ label, value, min, max, step, words, onChange }: SliderProps) {
  const id = useId();
  return (
    <div className="reading-slider">
      <label htmlFor={id}>{label}</label>
      <output htmlFor={id}>{words}</output>
      <input
        id={id}
        type="range"
        min={min}
        max={max}
        step={step}
        value={value}
        aria-valuetext={words}
        onChange={(event) => onChange(Number(event.target.value))}
      />
    </div>
  );
}
