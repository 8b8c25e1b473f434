/** The screen stands in the address, so that a reload comes back to it and the way back is the browser's own. */
import { useEffect, useState } from 'react';
import { addressOf, readScreen, type ScreenName } from './screens.ts';

export function showScreen(screen: ScreenName): void {
  location.hash = addressOf(screen);
}

export function useScreen(): ScreenName {
  const [screen, setScreen] = useState(() => readScreen(location.hash));
  useEffect(() => {
    const follow = () => setScreen(readScreen(location.hash));
    addEventListener('hashchange', follow);
    return () => removeEventListener('hashchange', follow);
  }, []);
  return screen;
}
