/** The size of the window, as it is now. */
import { useEffect, useState } from 'react';
import type { Window } from './letter-size.ts';

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
