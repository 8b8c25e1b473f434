/** Both photographs of a reading at full resolution, prepared by one worker each. */
import { useEffect, useState } from 'react';
import { ADDRESSES } from '../../../../../contract/addresses.ts';
import type { ReadingShot } from '../../../../../record/reading.ts';
import type { Pyramid } from './luminance-plane.ts';
import type { PhotographMessage } from './prepare-photograph.worker.ts';
import { EYES } from '../../../../../kernel/eye.ts';

export interface Photographs {
  readonly left: Pyramid;
  readonly right: Pyramid;
}

export type PhotographsState =
  | { readonly state: 'loading'; readonly fraction: number }
  | { readonly state: 'ready'; readonly photographs: Photographs }
  | { readonly state: 'missing' };

export function usePhotographs(shots: readonly ReadingShot[]): PhotographsState {
  const hashes = EYES.map((side) => shots.find(({ role }) => role === `${side}-lens`)?.sha256 ?? '').join(' ');
  const [held, setHeld] = useState<{ readonly hashes: string; readonly is: PhotographsState }>();
  useEffect(() => {
    const fractions = [0, 0];
    const pyramids: Pyramid[] = [];
    const tell = (is: PhotographsState) => setHeld({ hashes, is });
    const workers = hashes.split(' ').map((hash, index) => {
      const worker = new Worker(new URL('./prepare-photograph.worker.ts', import.meta.url), { type: 'module' });
      worker.onmessage = ({ data }: MessageEvent<PhotographMessage>) => {
        if (data.type === 'missing') return tell({ state: 'missing' });
        if (data.type === 'ready') {
          pyramids[index] = data.pyramid;
          worker.terminate();
        }
        fractions[index] = data.type === 'ready' ? 1 : data.fraction;
        const [left, right] = pyramids;
        tell(
          left && right
            ? { state: 'ready', photographs: { left, right } }
            : { state: 'loading', fraction: (fractions[0]! + fractions[1]!) / 2 },
        );
      };
      worker.onerror = () => tell({ state: 'missing' });
      worker.postMessage(new URL(ADDRESSES.photograph(hash), location.href).href);
      return worker;
    });
    return () => {
      for (const worker of workers) worker.terminate();
    };
  }, [hashes]);
  return held?.hashes === hashes ? held.is : { state: 'loading', fraction: 0 };
}
