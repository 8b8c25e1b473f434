/** Whether the picture stands still: a word and a shape. */
import { translate } from '../../../wording/translate.ts';

/** `unknown`: watched for too short a time; `nothing`: there is no target to watch. */
export type Stillness = 'still' | 'moving' | 'unknown' | 'nothing';

const SHAPES = {
  still: <circle cx="20" cy="20" r="13" fill="currentColor" />,
  moving: (
    <g fill="none" stroke="currentColor" strokeWidth="2.5">
      <circle cx="13" cy="20" r="10.5" />
      <circle cx="20" cy="20" r="10.5" />
      <circle cx="27" cy="20" r="10.5" />
    </g>
  ),
  nothing: <path d="M7 20h26" stroke="currentColor" strokeWidth="2.5" />,
  unknown: (
    <circle cx="20" cy="20" r="13" fill="none" stroke="currentColor" strokeWidth="2.5" strokeDasharray="4 4.2" />
  ),
} as const;

export function Steadiness({
  stillness,
  movement_px,
}: {
  readonly stillness: Stillness;
  readonly movement_px: number | null;
}) {
  return (
    <p className={`camera-steadiness camera-steadiness-${stillness}`}>
      <svg viewBox="0 0 40 40" aria-hidden="true">
        {SHAPES[stillness]}
      </svg>
      <span className="camera-steadiness-word">{translate(`camera.${stillness}`)}</span>
      <span className="camera-steadiness-much">
        {movement_px === null
          ? translate(stillness === 'nothing' ? 'camera.movement-nothing' : 'camera.movement-unknown')
          : translate('camera.movement', { px: movement_px })}
      </span>
    </p>
  );
}
