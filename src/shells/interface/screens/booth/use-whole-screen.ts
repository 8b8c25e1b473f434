/** The whole screen and a screen that stays awake, where the browser allows either; and the ways out. */
import { useEffect, useRef } from 'react';
import { isLeavingKey } from './leaving-key.ts';

/** `onLeave` is called for any key and any click, and when the browser itself gives the screen back. */
export function useWholeScreen(onLeave: () => void): void {
  const leave = useRef(onLeave);
  leave.current = onLeave;
  useEffect(() => {
    let wasWhole = false;
    const follow = () => {
      if (document.fullscreenElement) wasWhole = true;
      else if (wasWhole) leave.current();
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
      if (!isLeavingKey(event)) return;
      event.preventDefault();
      leave.current();
    };
    const click = () => leave.current();
    addEventListener('keydown', press);
    addEventListener('click', click);
    return () => {
      removeEventListener('keydown', press);
      removeEventListener('click', click);
    };
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
