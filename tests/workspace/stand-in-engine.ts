/** An engine that answers at once from what a test lays out, and can be held up, stopped or made to fail. */
import type { PortShotsResult } from '../../src/application/polarizers/compare-port-shots.ts';
import { describeNull } from '../../src/application/polarizers/describe-null.ts';
import { describePorts } from '../../src/application/polarizers/describe-ports.ts';
import type { ExaminedPhoto } from '../../src/application/shot/examine-photo.ts';
import type { NullFromPhotographs } from '../../src/application/polarizers/find-null.ts';
import { learnAndAdvise } from '../../src/application/turns/learn-from-rounds.ts';
import { listTrends } from '../../src/application/trends/list-trends.ts';
import type { Engine, EngineState, JobOptions, RunKind } from '../../src/engine/engine.ts';
import { EngineFailure } from '../../src/engine/engine.ts';
import type { JobRequest, JobResult } from '../../src/engine/jobs.ts';
import type { FrameAnswer } from '../../src/engine/live-camera.ts';
import type { UnwordedEvenness } from '../../src/record/evenness.ts';
import type { MeasuredReading, UnwordedReading } from '../../src/record/reading.ts';
import { sampleReading } from '../report/sample-reading.ts';

export const usablePhoto = (shows: 'left' | 'right' | 'both' = 'left', width_px = 4000): ExaminedPhoto => ({
  sha256: null,
  width_px,
  height_px: 3000,
  examination: {
    outcome: 'usable',
    code: 'good',
    facts: { found: 48, expected: 48 },
    shows,
    leak_pct: null,
    blur_px: 1,
    clipped_pct: 0,
    brightest: 0.8,
    marks: [{ id: 'L1', eye: 'left', x: 1, y: 2 }],
    expected: 48,
  },
});

export const refusedPhoto = (code: string): ExaminedPhoto => ({
  sha256: null,
  width_px: null,
  height_px: null,
  examination: { outcome: 'refused', code, facts: {} },
});

export const unworded = (change: Partial<MeasuredReading> = {}): UnwordedReading => {
  const { measured_at: _, ...reading } = sampleReading;
  return { ...reading, ...change };
};

export class StandInEngine implements Engine {
  readonly asked: (readonly [string, unknown])[] = [];
  /** Answers to `examine`, by the slot that is asked for. */
  photos: Partial<Record<string, ExaminedPhoto>> = {};
  reading: UnwordedReading = unworded();
  foundNull: NullFromPhotographs = {
    outcome: 'refused',
    refusal: { outcome: 'refused', code: 'no-modulation', facts: {} },
    file: null,
    leaks: [],
    notes: [],
  };
  comparedPorts: PortShotsResult = {
    outcome: 'refused',
    refusal: { outcome: 'refused', code: 'one-port-only', facts: {} },
    lens: null,
  };
  light: UnwordedEvenness = {
    schema: 'twinplumb.evenness/1',
    outcome: 'refused',
    software: { name: 'twinplumb', version: '9.9.9' },
    subject: 'target',
    refusal: { code: 'no-target', shot: 'left-lens', file: 'left.jpg', facts: {} },
  };
  frame: FrameAnswer = { outcome: 'dropped' };
  /** Fails the next calls of a kind, one after the other. */
  readonly failures: { kind: string; code: EngineFailure['code'] }[] = [];
  #held: (() => void)[] | undefined;
  readonly #listeners = new Set<(state: EngineState) => void>();

  /** Work waits until `release` is called. */
  hold(): void {
    this.#held = [];
  }

  release(): void {
    const held = this.#held ?? [];
    this.#held = undefined;
    for (const go of held) go();
  }

  async #work(kind: string, request: unknown, { signal, onProgress }: JobOptions = {}): Promise<void> {
    this.asked.push([kind, request]);
    onProgress?.('looking', 0.25);
    const held = this.#held;
    if (held) {
      await new Promise<void>((resolve, reject) => {
        held.push(resolve);
        if (signal?.aborted) reject(new EngineFailure('cancelled', 'called off'));
        signal?.addEventListener('abort', () => reject(new EngineFailure('cancelled', 'called off')));
      });
    }
    if (signal?.aborted) throw new EngineFailure('cancelled', 'called off');
    const failing = this.failures.findIndex((failure) => failure.kind === kind);
    if (failing >= 0) throw new EngineFailure(this.failures.splice(failing, 1)[0]!.code, 'planted');
  }

  async run<K extends RunKind>(kind: K, request: JobRequest<K>, options?: JobOptions): Promise<JobResult<K>> {
    if (kind !== 'warm-up') await this.#work(kind, request, options);
    const answer = this.#answers[kind] as (request: JobRequest<K>) => JobResult<K>;
    return answer(request);
  }

  readonly #answers: { readonly [K in RunKind]: (request: JobRequest<K>) => JobResult<K> } = {
    examine: ({ slot }) => this.photos[slot] ?? usablePhoto(slot === 'right-lens' ? 'right' : 'left'),
    measure: () => this.reading,
    learn: (request) => learnAndAdvise(request),
    'search-null': (request) => describeNull(request, this.foundNull, request.softwareVersion),
    'measure-light': () => this.light,
    'compare-ports': (request) =>
      describePorts(request, this.comparedPorts, request.upperPortShows, request.softwareVersion),
    'list-trends': (request) => listTrends(request),
    view: () => ({ outcome: 'viewed', bytes: Uint8Array.of(1, 2), type: 'image/jpeg' }),
    'draw-pictures': () => {
      const region = { x: 0, y: 0, width: 10, height: 10 };
      return { overlay: { jpeg: Uint8Array.of(9), region }, crops: [] };
    },
    'begin-capture': () => undefined,
    'stop-live': () => undefined,
    'warm-up': () => undefined,
  };

  async judgeFrame(header: object): Promise<FrameAnswer> {
    await this.#work('judge-frame', header);
    return this.frame;
  }

  onState(listener: (state: EngineState) => void) {
    this.#listeners.add(listener);
    listener('ready');
    return () => this.#listeners.delete(listener);
  }

  tellState(state: EngineState) {
    for (const listener of this.#listeners) listener(state);
  }

  async close() {}
}
