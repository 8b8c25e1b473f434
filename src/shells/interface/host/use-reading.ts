/** The whole reading of one round; readings never change, so each is asked for once. */
import { useEffect, useState } from 'react';
import type { Reading } from '../../../record/reading.ts';
import type { Host } from './host.ts';

export function useReading(host: Host, round: number | undefined): Reading | undefined {
  const [reading, setReading] = useState<{ readonly round: number; readonly reading: Reading }>();
  useEffect(() => {
    if (round === undefined) return undefined;
    let isWanted = true;
    void host.call('round.read', { round }).then((outcome) => {
      if (isWanted && outcome.ok) setReading({ round, reading: outcome.value });
    });
    return () => {
      isWanted = false;
    };
  }, [host, round]);
  return reading?.round === round ? reading?.reading : undefined;
}
