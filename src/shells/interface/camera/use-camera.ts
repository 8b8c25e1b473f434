/** The camera itself: asks for it, keeps it while the page is in sight, and says what is wrong with it. */
import { useCallback, useEffect, useState } from 'react';
import {
  type CameraChoice,
  keepChoice,
  offerSizes,
  recallChoice,
  type Size,
  type CameraProblem,
  cameraProblemOf,
} from './camera-choice.ts';

export interface CameraDevice {
  readonly id: string;
  /** Empty until the camera has been allowed. */
  readonly label: string;
}

export interface CameraView {
  readonly state: 'off' | 'asking' | 'on';
  readonly trouble: CameraProblem | null;
  readonly track: MediaStreamTrack | undefined;
  readonly stream: MediaStream | undefined;
  readonly devices: readonly CameraDevice[];
  readonly sizes: readonly Size[];
  readonly choice: CameraChoice;
  choose(change: Partial<CameraChoice>): void;
  start(): void;
  stop(): void;
}

/** A muted track gives black or nothing; some mute for a moment while they start. */
const MUTED_MS = 3000;
/** A page that nobody looks at does not keep the camera longer than this. */
const HIDDEN_MS = 60_000;

interface Open {
  readonly stream: MediaStream;
  readonly track: MediaStreamTrack;
}

export function useCamera(): CameraView {
  const [choice, setChoice] = useState(() => recallChoice(storage()));
  const [isWanted, setWanted] = useState(true);
  const [attempt, setAttempt] = useState(0);
  const [open, setOpen] = useState<Open>();
  const [trouble, setTrouble] = useState<CameraProblem | null>(null);
  const devices = useDevices(open !== undefined);
  const { device, size } = choice;

  const start = useCallback(() => {
    setTrouble(null);
    setWanted(true);
    setAttempt((count) => count + 1);
  }, []);
  const giveUp = useCallback((why: CameraProblem | null) => {
    setTrouble(why);
    setWanted(false);
  }, []);

  useEffect(() => {
    if (!isWanted) return undefined;
    let isCurrent = true;
    let opened: MediaStream | undefined;
    const open = async () => {
      try {
        opened = await openCamera(device, size);
        if (!isCurrent) return stopAll(opened);
        setTrouble(null);
        setOpen({ stream: opened, track: opened.getVideoTracks()[0]! });
      } catch (error) {
        if (isCurrent) giveUp(cameraProblemOf(error));
      }
    };
    void open();
    return () => {
      isCurrent = false;
      if (opened) stopAll(opened);
      setOpen(undefined);
    };
  }, [isWanted, attempt, device, size, giveUp]);

  useTrack(open?.track, giveUp, setTrouble);
  useRest(isWanted, giveUp);
  useReturn(trouble, start);

  return {
    state: !isWanted ? 'off' : open ? 'on' : 'asking',
    trouble,
    track: open?.track,
    stream: open?.stream,
    devices,
    sizes: offerSizes(mostOf(open?.track)),
    choice,
    choose: (change) => {
      const next = { ...choice, ...change };
      keepChoice(storage(), next);
      setChoice(next);
    },
    start,
    stop: () => giveUp(null),
  };
}

async function openCamera(device: string, size: Size): Promise<MediaStream> {
  const video = { width: { ideal: size.width }, height: { ideal: size.height }, frameRate: { ideal: 30 } };
  const { mediaDevices } = navigator;
  // Absent where the page does not come from a place that browsers trust.
  if (mediaDevices === undefined) throw new TypeError('no media devices');
  if (device === '') return mediaDevices.getUserMedia({ video });
  try {
    return await mediaDevices.getUserMedia({ video: { ...video, deviceId: { exact: device } } });
  } catch (error) {
    // The camera of the last time is not there; any other will do.
    if (error instanceof Error && error.name === 'OverconstrainedError') return mediaDevices.getUserMedia({ video });
    throw error;
  }
}

function stopAll(stream: MediaStream): void {
  for (const track of stream.getTracks()) track.stop();
}

function mostOf(track: MediaStreamTrack | undefined): Partial<Size> | undefined {
  const { width, height } = track?.getCapabilities?.() ?? {};
  if (width?.max === undefined || height?.max === undefined) return undefined;
  return { width: width.max, height: height.max };
}

function storage(): Storage | undefined {
  try {
    return globalThis.localStorage;
  } catch {
    return undefined;
  }
}

/** Unplugged in the middle, or muted by a switch, a lid or another program. */
function useTrack(
  track: MediaStreamTrack | undefined,
  giveUp: (why: CameraProblem) => void,
  setTrouble: (trouble: CameraProblem | null) => void,
): void {
  useEffect(() => {
    if (!track) return undefined;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const listening = new AbortController();
    const { signal } = listening;
    const onMute = () => {
      timer = setTimeout(() => setTrouble('muted'), MUTED_MS);
    };
    const onUnmute = () => {
      clearTimeout(timer);
      setTrouble(null);
    };
    track.addEventListener('ended', () => giveUp('ended'), { signal });
    track.addEventListener('mute', onMute, { signal });
    track.addEventListener('unmute', onUnmute, { signal });
    if (track.muted) onMute();
    return () => {
      clearTimeout(timer);
      listening.abort();
    };
  }, [track, giveUp, setTrouble]);
}

function useRest(isWanted: boolean, giveUp: (why: CameraProblem) => void): void {
  useEffect(() => {
    if (!isWanted) return undefined;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const follow = () => {
      clearTimeout(timer);
      if (document.hidden) timer = setTimeout(() => giveUp('rested'), HIDDEN_MS);
    };
    document.addEventListener('visibilitychange', follow);
    return () => {
      clearTimeout(timer);
      document.removeEventListener('visibilitychange', follow);
    };
  }, [isWanted, giveUp]);
}

/** A camera that was missing is tried again as soon as one is plugged in. */
function useReturn(trouble: CameraProblem | null, start: () => void): void {
  useEffect(() => {
    if (trouble !== 'none' && trouble !== 'ended') return undefined;
    const { mediaDevices } = navigator;
    mediaDevices?.addEventListener('devicechange', start);
    return () => mediaDevices?.removeEventListener('devicechange', start);
  }, [trouble, start]);
}

/** `isOpen`: once a camera was allowed the devices have names. */
function useDevices(isOpen: boolean): readonly CameraDevice[] {
  const [devices, setDevices] = useState<readonly CameraDevice[]>([]);
  useEffect(() => {
    const { mediaDevices } = navigator;
    if (mediaDevices === undefined) return undefined;
    let isWanted = true;
    const list = async () => {
      const all = await mediaDevices.enumerateDevices();
      const cameras = all.filter(({ kind }) => kind === 'videoinput');
      if (isWanted) setDevices(cameras.map(({ deviceId, label }) => ({ id: deviceId, label })));
    };
    void list();
    const again = () => void list();
    mediaDevices.addEventListener('devicechange', again);
    return () => {
      isWanted = false;
      mediaDevices.removeEventListener('devicechange', again);
    };
  }, [isOpen]);
  return devices;
}
