/** The place in the logbook, followed as the address changes. */
import { useEffect, useState } from 'react';
import { type LogbookPlace, readPlace } from './logbook-place.ts';

export function usePlace(): LogbookPlace {
  const [place, setPlace] = useState(() => readPlace(location.hash));
  useEffect(() => {
    const follow = () => setPlace(readPlace(location.hash));
    addEventListener('hashchange', follow);
    return () => removeEventListener('hashchange', follow);
  }, []);
  return place;
}
