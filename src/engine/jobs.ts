/**
 * The table of jobs: what the engine can be asked, and how its worker does it. Dispatch, types and progress follow from it.
 * Only the worker runs it; the host takes its types alone.
 */
import { describeLight, type LightRequest } from '../application/light/describe-light.ts';
import {
  type MeasureRequest as WholeMeasureRequest,
  type MeasuringStage,
  measurePhotographs,
} from '../application/measure-photographs.ts';
import { makePictures } from '../application/pictures/make-pictures.ts';
import { type NullSearchRequest, searchNull } from '../application/polarizers/describe-null.ts';
import { reportPorts } from '../application/polarizers/describe-ports.ts';
import { type ExaminingStage, examinePhoto, type PhotoToExamine } from '../application/shot/examine-photo.ts';
import { learnAndAdvise } from '../application/turns/learn-from-rounds.ts';
import { listTrends, type TrendsRequest } from '../application/trends/list-trends.ts';
import { warmUp } from '../application/warm-up.ts';
import { viewPhoto } from '../photo/view-photo.ts';
import { type CaptureRequest, type FrameToJudge, LiveCamera } from './live-camera.ts';

/** What is being done, and how much of the whole lies behind, 0 to 1. */
export type ReportProgress = (stage: string, fraction: number) => void;

export interface ViewRequest {
  readonly path: string;
  /** Width of the view, px; a photograph is never enlarged. Full size where it is left out. */
  readonly width?: number;
}

/** Everything that `measurePhotographs` takes but its listeners, which the engine has of its own. */
export type MeasureRequest = Omit<WholeMeasureRequest, 'onStage'>;

/** What lies behind when a stage begins: shares of the time of two 12-megapixel photographs on a warm engine. */
export const MEASURING: Readonly<Record<MeasuringStage, number>> = {
  reading: 0,
  looking: 0.55,
  comparing: 0.82,
  fitting: 0.9,
  advising: 0.98,
};

export const EXAMINING: Readonly<Record<ExaminingStage, number>> = { reading: 0, looking: 0.5 };

const live = new LiveCamera();

const JOBS = {
  /** One photograph judged by itself. A photograph that cannot be used is an answer, not a failure. */
  examine: (request: PhotoToExamine, report: ReportProgress) =>
    examinePhoto(request, (stage) => report(stage, EXAMINING[stage])),
  measure: (request: MeasureRequest, report: ReportProgress) =>
    measurePhotographs({ ...request, onStage: (stage) => report(stage, MEASURING[stage]) }),
  /** What the rounds before a reading have shown of the adjustments, and its advice by that. */
  learn: async (request: Parameters<typeof learnAndAdvise>[0]) => learnAndAdvise(request),
  'search-null': (request: NullSearchRequest, report: ReportProgress) => {
    // The reference is examined before the first of the series.
    const all = request.shots.length + 1;
    return searchNull(request, (done) => report('series', (done + 1) / all));
  },
  'compare-ports': reportPorts,
  'measure-light': (request: LightRequest, report: ReportProgress) => {
    report('light', 0);
    return describeLight(request);
  },
  view: ({ path, width }: ViewRequest) => viewPhoto(path, width),
  /** Fails with `engine-fault` where a photograph is no longer the one that was measured. */
  'draw-pictures': makePictures,
  'list-trends': async (request: TrendsRequest) => listTrends(request),
  /** Of frames that wait only the newest is judged; the others are answered with `dropped`. */
  'judge-frame': (request: FrameToJudge) => live.judge(request),
  /** The next frames become a shot; it comes with the verdict on the last of them. */
  'begin-capture': async (request: CaptureRequest) => live.begin(request),
  /** Forgets the frames seen so far, and a capture that has begun. */
  'stop-live': async (_request: undefined) => live.stop(),
  /** Has the first photograph's work done once on a drawn one, so that the first real one is as quick as the next. */
  'warm-up': (_request: undefined) => warmUp(),
} satisfies Record<string, (request: never, report: ReportProgress) => Promise<unknown>>;

export type JobKind = keyof typeof JOBS;
export type JobRequest<K extends JobKind> = Parameters<(typeof JOBS)[K]>[0];
export type JobResult<K extends JobKind> = Awaited<ReturnType<(typeof JOBS)[K]>>;

export function runJob<K extends JobKind>(
  kind: K,
  request: JobRequest<K>,
  report: ReportProgress,
): Promise<JobResult<K>> {
  const run = JOBS[kind] as (request: JobRequest<K>, report: ReportProgress) => Promise<JobResult<K>>;
  return run(request, report);
}
