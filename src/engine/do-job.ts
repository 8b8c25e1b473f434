/** Does one job on the worker's side. */
import { describeLight } from '../application/light/describe-light.ts';
import { searchNull } from '../application/polarizers/describe-null.ts';
import { reportPorts } from '../application/polarizers/describe-ports.ts';
import { examinePhoto } from '../application/shot/examine-photo.ts';
import { makePictures } from '../application/pictures/make-pictures.ts';
import { measurePair } from '../application/measure-pair.ts';
import { warmUp } from '../application/warm-up.ts';
import { viewPhoto } from '../photo/view-photo.ts';
import type { Answer, JobKind, Work } from './jobs.ts';
import { LiveDesk } from './live-camera.ts';
import { EXAMINING, MEASURING } from './progress.ts';

export type TellProgress = (stage: string, fraction: number) => void;

const live = new LiveDesk();

export async function doJob(work: Work, tell: TellProgress): Promise<Answer<JobKind>> {
  switch (work.kind) {
    case 'examine':
      return examinePhoto(work.ask, (stage) => tell(stage, EXAMINING[stage]));
    case 'measure':
      return measurePair({ ...work.ask, onStage: (stage) => tell(stage, MEASURING[stage]) });
    case 'null': {
      // The reference is looked at before the first of the series.
      const all = work.ask.shots.length + 1;
      return searchNull(work.ask, (done) => tell('series', (done + 1) / all));
    }
    case 'ports':
      return reportPorts(work.ask);
    case 'light':
      tell('light', 0);
      return describeLight(work.ask);
    case 'view':
      return viewPhoto(work.ask.path, work.ask.width);
    case 'pictures':
      return makePictures(work.ask);
    case 'frame':
      return live.judge(work.ask);
    case 'capture':
      return live.begin(work.ask);
    case 'stopLive':
      return live.stop();
    case 'warm':
      return warmUp();
  }
}

/** The memory of an answer's pictures, which may change hands instead of being copied. */
export function memoryOf(answer: Answer<JobKind>): ArrayBuffer[] {
  const found = new Set<ArrayBuffer>();
  const search = (value: unknown): void => {
    if (value instanceof Uint8Array) {
      const { buffer, byteLength } = value;
      if (buffer instanceof ArrayBuffer && buffer.byteLength === byteLength) found.add(buffer);
    } else if (typeof value === 'object' && value !== null) Object.values(value).forEach(search);
  };
  search(answer);
  return [...found];
}
