/** The falling bar: the ghost of the live picture while something is turned, with the lowest so far marked. */
import { type CSSProperties, useCallback, useEffect, useRef, useState } from 'react';
import { EMPTY_POLARIZERS } from '../../../../contract/polarizers.ts';
import type { ScreenProps } from '../../host/use-workspace.ts';
import { LivePicture, type MarksOverlay } from '../../camera/live-picture.tsx';
import { useCamera } from '../../camera/use-camera.ts';
import { type Judged, useFrames } from '../../camera/use-frames.ts';
import { Button } from '../../parts/button.tsx';
import { Choice } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { translate } from '../../../../wording/translate.ts';
import { type BarState, EMPTY_BAR, followGhost, lengthOf } from './falling-bar.ts';
import { EYES } from '../../../../kernel/eye.ts';
import '../../camera/camera.css';

export function LivePart({ host, workspace }: ScreenProps) {
  const { lens } = (workspace.polarizers ?? EMPTY_POLARIZERS).setting;
  const camera = useCamera();
  const video = useRef<HTMLVideoElement>(null);
  const overlay = useRef<MarksOverlay>(null);
  const [bar, setBar] = useState(EMPTY_BAR);
  const onVerdict = useCallback(
    (judged: Judged) => {
      overlay.current?.show(judged);
      setBar((before) => followGhost(before, judged.verdict, lens, performance.now()));
    },
    [lens],
  );
  const frames = useFrames(camera.track, video, onVerdict);
  useEffect(() => setBar(EMPTY_BAR), [lens, camera.state]);
  useEffect(() => () => void host.call('live.stop', {}), [host]);

  const isOn = camera.state === 'on';
  const shape = frames.judged?.frame ?? camera.choice.size;
  return (
    <>
      <div className="polarizers-lead">
        <h1>{formatBar(camera.trouble === null && isOn, bar)}</h1>
        {/* Numbers change too often to be read out; the way does not. */}
        <span className="unseen" role="status">
          {translate('polarizers.live-way', { way: bar.way ?? 'none' })}
        </span>
        <span className="polarizers-adding">
          <Button onClick={() => setBar(EMPTY_BAR)}>{translate('polarizers.begin-again')}</Button>
          <Button onClick={isOn ? camera.stop : camera.start}>
            {translate(isOn ? 'camera.turn-off' : 'camera.turn-on')}
          </Button>
        </span>
      </div>
      {camera.trouble && (
        <Notice
          kind="problem"
          isUrgent
          message={translate(`camera.trouble-${camera.trouble}`)}
          remedy={translate(`camera.trouble-${camera.trouble}-remedy`)}
        />
      )}
      {frames.failure && (
        <Notice kind="problem" message={frames.failure.message} remedy={frames.failure.remedy} isUrgent />
      )}
      <Bar bar={bar} />
      <div className="polarizers-columns">
        <div className="polarizers-live" style={{ '--camera-shape': shape.width / shape.height } as CSSProperties}>
          <LivePicture stream={camera.stream} video={video} overlay={overlay} />
        </div>
        <div className="polarizers-side">
          <Choice
            label={translate('polarizers.live-lens')}
            value={lens}
            onChange={(value) => void host.call('polarizers.change-setting', { lens: value })}
            options={EYES.map((value) => ({
              value,
              label: translate(`polarizers.lens-${value}`),
            }))}
          />
          <p className="polarizers-soft">{translate('polarizers.live-how')}</p>
        </div>
      </div>
    </>
  );
}

const [WIDTH, HEIGHT] = [1000, 112];
const TICKS_PCT = [1, 5, 10, 20];

function Bar({ bar: { now, lowest } }: { readonly bar: BarState }) {
  const lowestAt = lengthOf(lowest) * WIDTH;
  const isRight = lowestAt > WIDTH - 260;
  return (
    <svg
      className="polarizers-falling"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={formatLevels(now, lowest)}
    >
      <rect className="polarizers-falling-way" x="0" y="34" width={WIDTH} height="40" />
      <rect className="polarizers-falling-bar" x="0" y="34" width={lengthOf(now) * WIDTH} height="40" />
      {TICKS_PCT.map((tick) => (
        <g key={tick}>
          <path className="polarizers-grid" d={`M${lengthOf(tick) * WIDTH} 74v8`} />
          <text className="polarizers-tick polarizers-tick-x" x={lengthOf(tick) * WIDTH} y="100">
            {translate('polarizers.percent', { percent: tick })}
          </text>
        </g>
      ))}
      {lowest !== null && (
        <>
          <path className="polarizers-lowest" d={`M${lowestAt} 26V82`} />
          <text
            className={`polarizers-null-word${isRight ? ' polarizers-null-word-right' : ''}`}
            x={lowestAt + (isRight ? -8 : 8)}
            y="20"
          >
            {translate('polarizers.least', { ghost: formatGhost(lowest) })}
          </text>
        </>
      )}
    </svg>
  );
}

function formatBar(isOn: boolean, { now, lowest, way }: BarState): string {
  if (!isOn) return translate('polarizers.live-off');
  if (now === null || lowest === null) return translate('polarizers.live-none');
  return translate('polarizers.live-now', { ghost: formatGhost(now), way: way ?? 'none' });
}

function formatLevels(now: BarState['now'], lowest: BarState['lowest']): string {
  if (now === null || lowest === null) return translate('polarizers.live-none');
  return `${translate('polarizers.live-now', { ghost: formatGhost(now), way: 'none' })} ${translate('polarizers.least', { ghost: formatGhost(lowest) })}`;
}

/** Coarsely: the bar is for turning by, and photographs are for measuring. */
function formatGhost(ghost: number | 'faint'): string {
  if (ghost === 'faint') return translate('polarizers.faint');
  return translate('polarizers.percent', { percent: ghost >= 10 ? Math.round(ghost) : Math.round(10 * ghost) / 10 });
}
