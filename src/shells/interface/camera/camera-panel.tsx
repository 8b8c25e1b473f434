/**
 * The live camera: what it sees, which eye's picture that is, whether it stands still and is sharp, and the shots taken
 * with it. The camera is on while this is in sight, and off as soon as it is not.
 */
import { type CSSProperties, useCallback, useEffect, useRef, useState } from 'react';
import type { Failure } from '../../../contract/failures.ts';
import { isPast } from '../../../contract/photographs-of-round.ts';
import type { Workspace } from '../../../contract/workspace.ts';
import type { ShotSlot } from '../../../record/roles.ts';
import { translate } from '../../../wording/translate.ts';
import type { Host } from '../host/host.ts';
import { Button } from '../parts/button.tsx';
import { Choice, ListChoice } from '../parts/field.tsx';
import { Notice } from '../parts/notice.tsx';
import {
  FRAME_COUNTS,
  type FrameCount,
  nameOfSize,
  type Size,
  sizeOfName,
  type CameraProblem,
} from './camera-choice.ts';
import { type CaptureProgress, createSettler, followCapture, holdExposure, nextSlot } from './capture.ts';
import { type FrameSentence, formatSlot, Gauges, isGood, Steadiness, type Stillness, sentenceOf } from './gauges.tsx';
import { LivePicture, type MarksOverlay } from './live-picture.tsx';
import { TakeShot, useReleaseKey } from './take-shot.tsx';
import { type CameraView, useCamera } from './use-camera.ts';
import { type Judged, useFrames } from './use-frames.ts';
import './camera.css';

interface CameraPanelProps {
  readonly host: Host;
  readonly workspace: Workspace;
  /** The shot to begin with; the next one that is missing where it is left out. */
  readonly slot?: ShotSlot;
}

/** A sentence stands at least so long that it can be begun to be read. */
const HOLD_MS = 350;
const NONE: CaptureProgress = { state: 'none' };

export function CameraPanel({ host, workspace, slot: first }: CameraPanelProps) {
  const camera = useCamera();
  const [slot, setSlot] = useState<ShotSlot>(first ?? nextSlot(workspace));
  const [progress, setProgress] = useState<CaptureProgress>(NONE);
  const [refusal, setRefusal] = useState<Failure | null>(null);
  const video = useRef<HTMLVideoElement>(null);
  const overlay = useRef<MarksOverlay>(null);
  const lastSerial = useRef(0);
  const onVerdict = useCallback((judged: Judged) => {
    overlay.current?.show(judged);
    lastSerial.current = judged.verdict.serial;
    setProgress((before) => followCapture(before, judged.verdict));
  }, []);
  const frames = useFrames(camera.track, video, onVerdict);
  const verdict = frames.judged?.verdict;
  const sentence = useSettled(verdict && sentenceOf(verdict, slot));

  useEffect(() => {
    if (progress.state === 'taken') setSlot((current) => nextSlot(workspace, current));
  }, [progress.state, workspace]);
  // A shot under way is given up with the camera; what was taken before stays.
  useEffect(() => {
    if (camera.state === 'on') return undefined;
    setProgress((before) => (before.state === 'taken' ? before : NONE));
    return undefined;
  }, [camera.state]);
  useEffect(() => () => void host.call('live.stop', {}), [host]);

  const isTaking = progress.state === 'asked' || progress.state === 'gathering';
  useEffect(() => (isTaking && camera.track ? holdExposure(camera.track) : undefined), [isTaking, camera.track]);

  const take = async (isRepeat: boolean) => {
    setRefusal(null);
    const count = camera.choice.frames;
    setProgress({ state: 'asked', slot, want: count, since: lastSerial.current });
    const name = camera.track?.label || translate('camera.unnamed');
    const outcome = await host.call('live.capture', { slot, frames: count, name, is_repeat: isRepeat });
    if (outcome.ok) return;
    setProgress(NONE);
    setRefusal(outcome.failure);
  };
  const chooseSlot = (chosen: ShotSlot) => {
    setSlot(chosen);
    // What was taken before no longer decides which shot is next.
    setProgress((before) => (before.state === 'taken' || before.state === 'lost' ? NONE : before));
  };
  const giveUp = () => {
    setProgress(NONE);
    void host.call('live.stop', {});
  };

  const shape = frames.judged?.frame ?? camera.choice.size;
  const trouble = camera.trouble ?? (frames.isSilent ? 'silent' : null);
  const whyNotNow = whyNot(camera.state === 'on' && trouble === null, verdict);
  const { shots, rounds, past_round } = workspace;
  const isTaken = shots.some((shot) => shot.slot === slot && !isPast(shot, rounds, past_round));
  useReleaseKey(() => {
    if (!isTaking && whyNotNow === undefined) void take(false);
  });
  return (
    <section className="camera" aria-label={translate('camera.title')}>
      <div className="camera-lead">
        <Sentence state={camera.state} trouble={trouble} sentence={sentence} verdict={verdict} slot={slot} />
        <Indicator isOn={camera.state === 'on'} onStart={camera.start} onStop={camera.stop} />
      </div>
      {frames.failure && (
        <Notice kind="problem" message={frames.failure.message} remedy={translate('camera.tries-again')} isUrgent />
      )}
      {refusal && <Notice kind="problem" message={refusal.message} remedy={refusal.remedy} isUrgent />}
      <TakeShot
        slot={slot}
        onSlot={chooseSlot}
        progress={progress}
        isSteady={verdict?.isSteady ?? false}
        isTaken={isTaken}
        whyNot={whyNotNow}
        onTake={(isRepeat) => void take(isRepeat)}
        onGiveUp={giveUp}
      />
      <div className="camera-stage" style={{ '--camera-shape': shape.width / shape.height } as CSSProperties}>
        <LivePicture stream={camera.stream} video={video} overlay={overlay} />
        <div className="camera-aside">
          <ShownEye verdict={camera.state === 'on' ? verdict : undefined} />
          <Steadiness stillness={stillnessOf(verdict)} movement_px={verdict?.movement_px ?? null} />
          <Gauges verdict={verdict} />
        </div>
      </div>
      <CameraSettings camera={camera} frame={frames.judged?.frame} />
    </section>
  );
}

type Verdict = Judged['verdict'] | undefined;

function whyNot(isOn: boolean, verdict: Verdict): string | undefined {
  if (!isOn) return translate('camera.why-not-off');
  return verdict === undefined || verdict.shows === null ? translate('camera.why-not-target') : undefined;
}

function stillnessOf(verdict: Verdict): Stillness {
  if (!verdict || verdict.shows === null) return 'nothing';
  if (verdict.movement_px === null) return 'unknown';
  return verdict.isSteady ? 'still' : 'moving';
}

function useSettled(sentence: FrameSentence | undefined): FrameSentence | undefined {
  const [settler] = useState(() => createSettler<FrameSentence | undefined>(HOLD_MS));
  return settler.next(sentence, performance.now());
}

/** The one thing to know or to do, largest of all. */
function Sentence({
  state,
  trouble,
  sentence,
  verdict,
  slot,
}: {
  readonly state: 'off' | 'asking' | 'on';
  readonly trouble: CameraProblem | null;
  readonly sentence: FrameSentence | undefined;
  readonly verdict: Verdict;
  readonly slot: ShotSlot;
}) {
  const [what, advice] = (() => {
    if (trouble) return [translate(`camera.trouble-${trouble}`), translate(`camera.trouble-${trouble}-remedy`)];
    if (state === 'off') return [translate('camera.off'), translate('camera.off-remedy')];
    if (state === 'asking') return [translate('camera.asking'), translate('camera.asking-remedy')];
    if (!sentence) return [translate('camera.waiting'), ''];
    const values = { slot: formatSlot(slot), eye: verdict?.shows ?? 'both' };
    return [translate(`camera.say-${sentence}`, values), translate(`camera.say-${sentence}-remedy`, values)];
  })();
  const isCalm = trouble === null && sentence !== undefined && isGood(sentence);
  return (
    <div className={`camera-sentence${isCalm ? ' camera-sentence-good' : ''}`} role={trouble ? 'alert' : 'status'}>
      <h2>{what}</h2>
      <p>{advice}</p>
    </div>
  );
}

function Indicator({
  isOn,
  onStart,
  onStop,
}: {
  readonly isOn: boolean;
  readonly onStart: () => void;
  readonly onStop: () => void;
}) {
  return (
    <div className="camera-indicator">
      <span className={isOn ? 'camera-lamp camera-lamp-on' : 'camera-lamp'}>
        {translate(isOn ? 'camera.is-on' : 'camera.is-off')}
      </span>
      <Button onClick={isOn ? onStop : onStart}>{translate(isOn ? 'camera.turn-off' : 'camera.turn-on')}</Button>
    </div>
  );
}

function ShownEye({ verdict }: { readonly verdict: Verdict }) {
  const shows = verdict?.shows ?? 'none';
  return (
    <p className={`camera-eye camera-eye-${shows}`}>
      <span className="camera-eye-label">{translate('camera.seeing')}</span>
      <strong>{translate('camera.eye', { shows })}</strong>
    </p>
  );
}

/** Which camera, how large its picture is, and how many frames make a shot. */

function CameraSettings({ camera, frame }: { readonly camera: CameraView; readonly frame: Size | undefined }) {
  const { devices, sizes, choice, track, choose } = camera;
  const current = track?.getSettings().deviceId ?? choice.device;
  const isGiven = frame !== undefined && nameOfSize(frame) !== nameOfSize(choice.size);
  const offered = sizes.some((size) => nameOfSize(size) === nameOfSize(choice.size)) ? sizes : [choice.size, ...sizes];
  return (
    <div className="camera-settings">
      <ListChoice
        label={translate('camera.device')}
        options={devices.map(({ id, label }, i) => ({
          value: id,
          label: label === '' ? translate('camera.device-number', { number: i + 1 }) : label,
        }))}
        value={current}
        onChange={(device) => choose({ device })}
      />
      <ListChoice
        label={translate('camera.size')}
        options={offered.map((size) => ({ value: nameOfSize(size), label: translate('camera.size-of', { ...size }) }))}
        value={nameOfSize(choice.size)}
        onChange={(name) => choose({ size: sizeOfName(name)! })}
        hint={isGiven ? translate('camera.size-given', { ...frame }) : undefined}
      />
      <Choice
        label={translate('camera.frames')}
        options={FRAME_COUNTS.map((count) => ({ value: String(count), label: String(count) }))}
        value={String(choice.frames)}
        onChange={(value) => choose({ frames: Number(value) as FrameCount })}
        hint={translate('camera.frames-hint')}
      />
    </div>
  );
}
