/** The photographs of a reading at full resolution, prepared by one worker each. */
import { useEffect, useState } from 'react';
import { ADDRESSES } from '../../../../../contract/addresses.ts';
import type { MeasuredReading } from '../../../../../record/reading.ts';
import { listShownShots } from '../../../../../record/shown-shots.ts';
import type { Pyramid } from './luminance-plane.ts';
import type { PhotographMessage } from './prepare-photograph.worker.ts';

/** What shows the left eye's picture and the right eye's: the very same where one exposure shows both. */
export interface Photographs {
  readonly left: Pyramid;
  readonly right: Pyramid;
}

export type PhotographsState =
  | { readonly state: 'loading'; readonly fraction: number }
  | { readonly state: 'ready'; readonly photographs: Photographs }
  | { readonly state: 'missing' };

type ShownFacts = Pick<MeasuredReading, 'geometry_from' | 'shots'>;

export function usePhotographs(reading: ShownFacts): PhotographsState {
  const hashes = listShownShots(reading)
    .map((shot) => shot?.sha256 ?? '')
    .join(' ');
  const [held, setHeld] = useState<{ readonly hashes: string; readonly is: PhotographsState }>();
  useEffect(() => {
    const shown = hashes.split(' ');
    const fractions = shown.map(() => 0);
    const pyramids: Pyramid[] = [];
    const tell = (is: PhotographsState) => setHeld({ hashes, is });
    const workers = shown.map((hash, index) => {
      const worker = new Worker(new URL('./prepare-photograph.worker.ts', import.meta.url), { type: 'module' });
      worker.onmessage = ({ data }: MessageEvent<PhotographMessage>) => {
        if (data.type === 'missing') return tell({ state: 'missing' });
        if (data.type === 'ready') {
          pyramids[index] = data.pyramid;
          worker.terminate();
        }
        fractions[index] = data.type === 'ready' ? 1 : data.fraction;
        const [left, right = shown.length === 1 ? left : undefined] = pyramids;
        tell(
          left && right
            ? { state: 'ready', photographs: { left, right } }
            : { state: 'loading', fraction: fractions.reduce((sum, each) => sum + each, 0) / shown.length },
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
