/** From where the attachment is looked at. Its left and right, and the way in which the whole turns, depend on it. */
import { useState } from 'react';

export type Standpoint = 'audience' | 'projector';

const KEPT_AS = 'twinplumb.standpoint';

/** Kept in this browser: where the operator stands does not change with the work. */
export function useStandpoint(): readonly [Standpoint, (standpoint: Standpoint) => void] {
  const [standpoint, setStandpoint] = useState<Standpoint>(read);
  return [
    standpoint,
    (next) => {
      setStandpoint(next);
      try {
        localStorage.setItem(KEPT_AS, next);
      } catch {
        // Where nothing can be kept it holds until the page is left.
      }
    },
  ];
}

function read(): Standpoint {
  try {
    return localStorage.getItem(KEPT_AS) === 'projector' ? 'projector' : 'audience';
  } catch {
    return 'audience';
  }
}

type Direction = 'clockwise' | 'counter-clockwise';

/** What is turned as a whole is meant as seen from the audience; from the other side the same turn goes the other way. */
export function directionSeenFrom(standpoint: Standpoint, direction: Direction): Direction {
  if (standpoint === 'audience') return direction;
  return direction === 'clockwise' ? 'counter-clockwise' : 'clockwise';
}
