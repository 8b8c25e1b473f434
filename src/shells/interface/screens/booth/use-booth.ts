/** The whole screen and a screen that stays awake, where the browser allows either; and the ways out. */
import { useEffect, useRef, useState } from 'react';
import type { Round } from '../../../../contract/workspace.ts';
import { type BoothCommand, commandOfKey, composeMelody, type Outcome, outcomeOf } from './booth-content.ts';
import type { Window } from './letter-size.ts';

/** `onCommand` is called for the keys of `commandOfKey`, and with `leave` when the browser itself gives the screen back. */
export function useWholeScreen(onCommand: (command: BoothCommand, at_ms: number) => void): void {
  const command = useRef(onCommand);
  command.current = onCommand;
  useEffect(() => {
    let wasWhole = false;
    const follow = () => {
      if (document.fullscreenElement) wasWhole = true;
      else if (wasWhole) command.current('leave', performance.now());
    };
    document.addEventListener('fullscreenchange', follow);
    // Allowed only soon after a click or a key; without it the view fills the window.
    if (navigator.userActivation?.isActive) {
      document.documentElement.requestFullscreen?.().catch(() => undefined);
    }
    return () => {
      document.removeEventListener('fullscreenchange', follow);
      if (document.fullscreenElement) void document.exitFullscreen().catch(() => undefined);
    };
  }, []);
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      const wanted = event.altKey || event.ctrlKey || event.metaKey ? null : commandOfKey(event);
      if (wanted === null) return;
      // A button in focus that is pressed by key says what it says.
      if (wanted === 'next' && event.target instanceof HTMLButtonElement) return;
      event.preventDefault();
      command.current(wanted, event.timeStamp);
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  }, []);
}

/** A lock is lost whenever the page is hidden, so it is asked for again. */
export function useWakefulScreen(): void {
  useEffect(() => {
    let isOver = false;
    let lock: WakeLockSentinel | undefined;
    const ask = async () => {
      if (document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return;
      try {
        const given = await navigator.wakeLock.request('screen');
        if (isOver) await given.release();
        else lock = given;
      } catch {
        // Refused on low battery, for one; the view works without.
      }
    };
    void ask();
    document.addEventListener('visibilitychange', ask);
    return () => {
      isOver = true;
      document.removeEventListener('visibilitychange', ask);
      void lock?.release();
    };
  }, []);
}

/** Plays the outcome of each round that comes in while the booth view is open; never that of one that was there before. */

const LOUDNESS = 0.25;
/** Notes swell and fade in this time, so that nothing clicks. */
const EDGE_S = 0.02;

export function useBoothSound(isOn: boolean, round: Round | undefined): void {
  const heard = useRef(round?.at);
  useEffect(() => {
    if (round === undefined || round.at === heard.current) return;
    heard.current = round.at;
    if (isOn) playOutcome(outcomeOf(round));
  }, [isOn, round]);
}

export function playOutcome(outcome: Outcome): void {
  const context = new AudioContext();
  const begin = context.currentTime + EDGE_S;
  const notes = composeMelody(outcome);
  for (const [index, { hz, from_s, for_s }] of notes.entries()) {
    const [oscillator, gain] = [context.createOscillator(), context.createGain()];
    oscillator.frequency.value = hz;
    gain.gain.setValueAtTime(0, begin + from_s);
    gain.gain.linearRampToValueAtTime(LOUDNESS, begin + from_s + EDGE_S);
    gain.gain.setValueAtTime(LOUDNESS, begin + from_s + for_s - EDGE_S);
    gain.gain.linearRampToValueAtTime(0, begin + from_s + for_s);
    oscillator.connect(gain).connect(context.destination);
    oscillator.start(begin + from_s);
    oscillator.stop(begin + from_s + for_s);
    if (index === notes.length - 1) oscillator.onended = () => void context.close();
  }
}

/** The size of the window, as it is now. */

export function useWindowSize(): Window {
  const [size, setSize] = useState(read);
  useEffect(() => {
    const follow = () => setSize(read());
    addEventListener('resize', follow);
    return () => removeEventListener('resize', follow);
  }, []);
  return size;
}

const read = (): Window => ({ width_px: innerWidth, height_px: innerHeight });
