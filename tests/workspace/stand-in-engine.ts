/** An engine that answers at once from what a test lays out, and can be held up, stopped or made to fail. */
import type { PortShotsResult } from '../../src/application/polarizers/compare-port-shots.ts';
import { describeNull, type NullOrder } from '../../src/application/polarizers/describe-null.ts';
import { describePorts, type PortsOrder } from '../../src/application/polarizers/describe-ports.ts';
import type { LightRequest } from '../../src/application/light/describe-light.ts';
import type { ExaminedPhoto } from '../../src/application/shot/examine-photo.ts';
import type { NullFromPhotographs } from '../../src/application/polarizers/find-null.ts';
import type { Engine, EngineState, FrameAnswer, JobOptions, MeasureRequest } from '../../src/engine/engine.ts';
import { EngineFailure } from '../../src/engine/engine.ts';
import type { UnwordedEvenness } from '../../src/record/evenness.ts';
import type { UnwordedNullSearch } from '../../src/record/null-search.ts';
import type { UnwordedPortShots } from '../../src/record/port-shots.ts';
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

  async examine(request: { slot: string; path: string; aspect: number }, options?: JobOptions) {
    await this.#work('examine', request, options);
    return this.photos[request.slot] ?? usablePhoto(request.slot === 'right-lens' ? 'right' : 'left');
  }

  async measure(request: MeasureRequest, options?: JobOptions) {
    await this.#work('measure', request, options);
    return this.reading;
  }

  async findNull(order: NullOrder, options?: JobOptions): Promise<UnwordedNullSearch> {
    await this.#work('null', order, options);
    return describeNull(order, this.foundNull, order.softwareVersion);
  }

  async describeLight(request: LightRequest, options?: JobOptions): Promise<UnwordedEvenness> {
    await this.#work('light', request, options);
    return this.light;
  }

  async comparePorts(order: PortsOrder, options?: JobOptions): Promise<UnwordedPortShots> {
    await this.#work('ports', order, options);
    return describePorts(order, this.comparedPorts, order.upperPortShows, order.softwareVersion);
  }

  async viewPhotograph(request: { path: string; width?: number }) {
    await this.#work('view', request);
    return { outcome: 'viewed' as const, bytes: Uint8Array.of(1, 2), type: 'image/jpeg' as const };
  }

  async makePictures(order: object) {
    await this.#work('pictures', order);
    const region = { x: 0, y: 0, width: 10, height: 10 };
    return { overlay: { jpeg: Uint8Array.of(9), region }, crops: [] };
  }

  async judgeFrame(header: object): Promise<FrameAnswer> {
    await this.#work('frame', header);
    return this.frame;
  }

  async beginCapture(order: object) {
    await this.#work('capture', order);
  }

  async stopLive() {
    await this.#work('stop', undefined);
  }

  async warm() {}

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
