/** The line between the two photographs of a wiped stage: dragged, or moved with the arrow keys. */
import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import { translate } from '../../../../../wording/translate.ts';

export interface DividerProps {
  /** Share of the stage left of it. */
  readonly at: number;
  readonly onMove: (at: number) => void;
}

const STEP = 0.02;
const LARGE_STEP = 0.1;
const STEPS: Readonly<Record<string, number>> = {
  ArrowLeft: -STEP,
  ArrowDown: -STEP,
  ArrowRight: STEP,
  ArrowUp: STEP,
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
