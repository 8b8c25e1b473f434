/** Takes the shot: which one, how many of its frames are there, and what became of it. */
import { useEffect, useRef } from 'react';
import { SHOT_ROLES, type ShotSlot } from '../../../record/roles.ts';
import { translate } from '../../../wording/translate.ts';
import { Button } from '../parts/button.tsx';
import { Choice } from '../parts/field.tsx';
import { Notice } from '../parts/notice.tsx';
import type { CaptureProgress } from './capture.ts';
import { formatSlot } from './gauges.tsx';

const SLOTS: readonly ShotSlot[] = [...SHOT_ROLES, 'closing'];

export interface TakeShotProps {
  readonly slot: ShotSlot;
  readonly onSlot: (slot: ShotSlot) => void;
  readonly progress: CaptureProgress;
  readonly isSteady: boolean;
  /** Why no shot can be taken now. */
  readonly whyNot: string | undefined;
  /** There is one of this kind in this round already. */
  readonly isTaken: boolean;
  readonly onTake: (isRepeat: boolean) => void;
  readonly onGiveUp: () => void;
}

const RELEASE_KEY = 'PageDown';

/** Page Down, which presenters and foot pedals send, or Space where no control has the focus. */
export function useReleaseKey(onRelease: () => void): void {
  const latest = useRef(onRelease);
  latest.current = onRelease;
  useEffect(() => {
    const hear = (event: KeyboardEvent) => {
      const isFree = event.target === document.body || event.target === document.documentElement;
      if (event.repeat || !(event.key === RELEASE_KEY || (event.key === ' ' && isFree))) return;
      event.preventDefault();
      latest.current();
    };
    addEventListener('keydown', hear);
    return () => removeEventListener('keydown', hear);
  }, []);
}

export function TakeShot({ slot, onSlot, progress, isSteady, isTaken, whyNot, onTake, onGiveUp }: TakeShotProps) {
  const isTaking = progress.state === 'asked' || progress.state === 'gathering';
  return (
    <div className="camera-take">
      <Choice
        label={translate('camera.which')}
        options={SLOTS.map((value) => ({ value, label: translate(`camera.slot-${value}`) }))}
        value={slot}
        onChange={onSlot}
      />
      <div className="camera-release">
        {isTaking ? (
          <Gathering progress={progress} isSteady={isSteady} onGiveUp={onGiveUp} />
        ) : (
          <>
            <Button kind="main" onClick={() => onTake(false)} whyNot={whyNot} keys={RELEASE_KEY}>
              {translate('camera.take', { slot: formatSlot(slot) })}
            </Button>
            {isTaken && slot !== 'closing' && (
              <Button onClick={() => onTake(true)} whyNot={whyNot}>
                {translate('camera.take-another')}
              </Button>
            )}
            <span className="camera-key">{translate('camera.take-key')}</span>
          </>
        )}
      </div>
      <p className="camera-taken" role="status">
        {progress.state === 'taken' && translate('camera.taken', { slot: formatSlot(progress.slot) })}
      </p>
      {progress.state === 'lost' && (
        <Notice kind="problem" isUrgent message={translate('camera.lost')} remedy={translate('camera.lost-remedy')} />
      )}
    </div>
  );
}

function Gathering({
  progress,
  isSteady,
  onGiveUp,
}: Pick<TakeShotProps, 'isSteady' | 'onGiveUp'> & {
  readonly progress: Extract<CaptureProgress, { readonly state: 'asked' | 'gathering' }>;
}) {
  const have = progress.state === 'gathering' ? progress.have : 0;
  const words = translate('camera.gathering', { have, want: progress.want });
  return (
    <>
      <span className="camera-count">
        <progress aria-label={words} max={progress.want} value={have} />
        <span>{words}</span>
        <span className="camera-count-waits">
          {isSteady ? translate('camera.hold-still') : translate('camera.waits-for-still')}
        </span>
      </span>
      <Button onClick={onGiveUp}>{translate('camera.give-up')}</Button>
    </>
  );
}
