/** What is laid out to find a null and to compare the ports: photographs, turns, and the work that they are given to. */
import type { Outcome } from '../contract/failures.ts';
import {
  EMPTY_POLARIZERS,
  type AddedPhotograph,
  MAX_IN_SERIES,
  type NullSetting,
  type Polarizers,
  type SeriesPhotograph,
} from '../contract/polarizers.ts';
import type { Workspace } from '../contract/workspace.ts';
import type { Engine, JobOptions } from '../engine/engine.ts';
import { translateFailure } from '../wording/failures.ts';
import { translateNullSearch, translatePortShots } from '../wording/polarizers.ts';
import type { CurrentState } from './current-state.ts';
import { FailedWork } from './job-list.ts';
import type { ImportedPhotograph, PhotographStore } from './photograph-store.ts';
import type { PolarizerRole } from '../record/roles.ts';

export interface PolarizerServiceOptions {
  readonly state: CurrentState;
  readonly photographs: PhotographStore;
  readonly engine: Engine;
  readonly softwareVersion: string;
}

export class PolarizerService {
  readonly #options: PolarizerServiceOptions;

  constructor(options: PolarizerServiceOptions) {
    this.#options = options;
  }

  get now(): Polarizers {
    return this.#options.state.now.polarizers ?? EMPTY_POLARIZERS;
  }

  /** All photographs that lie here, by their hash. */
  holds(sha256: string): boolean {
    const { reference, series, ports } = this.now;
    return [reference, ...series, ports.left, ports.right].some((photograph) => photograph?.sha256 === sha256);
  }

  /** A series has an end. */
  refuseMore(role: PolarizerRole): Outcome<never> | undefined {
    if (role !== 'series' || this.now.series.length < MAX_IN_SERIES) return undefined;
    return { ok: false, failure: translateFailure('series-full', { limit: MAX_IN_SERIES }) };
  }

  add(role: PolarizerRole, { name, sha256 }: ImportedPhotograph): Promise<Outcome<Workspace>> {
    return this.#change((before) => lay(before, role, { id: before.count + 1, name, sha256 }));
  }

  setting(change: { [K in keyof NullSetting]?: NullSetting[K] | undefined }): Promise<Outcome<Workspace>> {
    return this.#change((before) => {
      const { lens, turned, counted } = before.setting;
      const setting = {
        lens: change.lens ?? lens,
        turned: change.turned ?? turned,
        counted: change.counted ?? counted,
      };
      return { ...before, setting, null_search: null };
    });
  }

  setTurn(id: number, turn_deg: number | null): Promise<Outcome<Workspace>> {
    return this.#change((before) => ({
      ...before,
      series: before.series.map((photograph) => (photograph.id === id ? { ...photograph, turn_deg } : photograph)),
      null_search: null,
    }));
  }

  move(id: number, by: -1 | 1): Promise<Outcome<Workspace>> {
    return this.#change((before) => {
      const from = before.series.findIndex((photograph) => photograph.id === id);
      const to = from + by;
      if (from < 0 || to < 0 || to >= before.series.length) return before;
      const series = [...before.series];
      [series[from], series[to]] = [series[to]!, series[from]!];
      return { ...before, series, null_search: null };
    });
  }

  remove(id: number): Promise<Outcome<Workspace>> {
    return this.#change((before) => {
      const keep = <T extends AddedPhotograph>(photograph: T | null) => (photograph?.id === id ? null : photograph);
      const { reference, series, ports } = before;
      const isOfPorts = ports.left?.id === id || ports.right?.id === id;
      return {
        ...before,
        reference: keep(reference),
        series: series.filter((photograph) => photograph.id !== id),
        null_search: isOfPorts ? before.null_search : null,
        ports: { left: keep(ports.left), right: keep(ports.right) },
        port_shots: isOfPorts ? null : before.port_shots,
      };
    });
  }

  /** The reference stays: camera and screen are the same for the next series. */
  clearSeries(): Promise<Outcome<Workspace>> {
    return this.#change((before) => ({ ...before, series: [], null_search: null }));
  }

  exchangePorts(): Promise<Outcome<Workspace>> {
    return this.#change((before) => ({
      ...before,
      ports: { left: before.ports.right, right: before.ports.left },
      port_shots: null,
    }));
  }

  findNull(): Outcome<{ job: number }> {
    const { state } = this.#options;
    const now = this.now;
    if (now.reference === null || now.series.length === 0) return fail('series-missing');
    if (state.jobs.isRunning('null-search')) return fail('already-measuring');
    const job = state.jobs.start('null-search', (options) => this.#findNull(now, now.reference!, options));
    return { ok: true, value: { job } };
  }

  comparePorts(): Outcome<{ job: number }> {
    const { state } = this.#options;
    const now = this.now;
    const { left, right } = now.ports;
    if (!left || !right) return fail('ports-missing');
    if (state.jobs.isRunning('port-shots')) return fail('already-measuring');
    const job = state.jobs.start('port-shots', (options) => this.#comparePorts(now, left, right, options));
    return { ok: true, value: { job } };
  }

  async #findNull(asked: Polarizers, reference: AddedPhotograph, options: JobOptions): Promise<void> {
    const { engine, state, softwareVersion } = this.#options;
    const { lens, turned, counted } = asked.setting;
    const shots = await Promise.all(
      asked.series.map(async (photograph) => ({
        ...(await this.#sourceOf(photograph)),
        ...(counted === 'turns' && photograph.turn_deg !== null ? { turn_deg: photograph.turn_deg } : {}),
      })),
    );
    // Turns that nobody has given yet are missing turns, and not steps.
    if (counted === 'turns' && shots.every(({ turn_deg }) => turn_deg === undefined)) {
      throw new FailedWork(translateFailure('turns-missing'));
    }
    const source = await this.#sourceOf(reference);
    const request = { lens, turned, shots, reference: source, aspect: state.aspect, softwareVersion };
    const found = translateNullSearch(await engine.run('search-null', request, options));
    options.signal?.throwIfAborted();
    await this.#keep((before) => (isSameSeries(before, asked) ? { ...before, null_search: found } : before));
  }

  async #comparePorts(
    asked: Polarizers,
    left: AddedPhotograph,
    right: AddedPhotograph,
    options: JobOptions,
  ): Promise<void> {
    const { engine, state, softwareVersion } = this.#options;
    const upper = state.now.house?.attachment?.upper_port_shows;
    const request = {
      left: await this.#sourceOf(left),
      right: await this.#sourceOf(right),
      softwareVersion,
      ...(upper === undefined ? {} : { upperPortShows: upper }),
    };
    const compared = translatePortShots(await engine.run('compare-ports', request, options));
    options.signal?.throwIfAborted();
    await this.#keep((before) => (before.ports === asked.ports ? { ...before, port_shots: compared } : before));
  }

  async #sourceOf({ sha256, name }: AddedPhotograph): Promise<{ path: string; name: string }> {
    const path = await this.#options.photographs.find(sha256);
    if (path === undefined) throw new FailedWork(translateFailure('photograph-missing', { name }));
    return { path, name };
  }

  async #keep(change: (before: Polarizers) => Polarizers): Promise<void> {
    const kept = await this.#change(change);
    if (!kept.ok) throw new FailedWork(kept.failure);
  }

  #change(change: (before: Polarizers) => Polarizers): Promise<Outcome<Workspace>> {
    return this.#options.state.change((before) => ({
      ...before,
      polarizers: change(before.polarizers ?? EMPTY_POLARIZERS),
    }));
  }
}

function lay(before: Polarizers, place: PolarizerRole, photograph: AddedPhotograph): Polarizers {
  const count = photograph.id;
  switch (place) {
    case 'reference':
      return { ...before, count, reference: photograph, null_search: null };
    case 'series': {
      const next: SeriesPhotograph = { ...photograph, turn_deg: readTurn(photograph.name) };
      return { ...before, count, series: [...before.series, next], null_search: null };
    }
    case 'port-left':
      return { ...before, count, ports: { ...before.ports, left: photograph }, port_shots: null };
    case 'port-right':
      return { ...before, count, ports: { ...before.ports, right: photograph }, port_shots: null };
  }
}

/** A turn that stands in a file's name, such as `-7.5deg.jpg` or `+5°.jpg`: a number with its unit, and nothing else is taken for one. */
function readTurn(name: string): number | null {
  const found = /(?<![\w.])([+-]?\d{1,3}(?:\.\d+)?) ?(?:deg|°)/i.exec(name)?.[1];
  const turn = found === undefined ? Number.NaN : Number(found);
  return Math.abs(turn) <= 360 ? turn : null;
}

function isSameSeries(a: Polarizers, b: Polarizers): boolean {
  return a.setting === b.setting && a.series === b.series && a.reference === b.reference;
}

function fail(code: Parameters<typeof translateFailure>[0]): Outcome<never> {
  return { ok: false, failure: translateFailure(code) };
}
