/** What is laid out to measure light: photographs, the reading of a meter, the chain of a budget, and what came of them. */
import { computeBudget } from '../application/light/compute-budget.ts';
import type { LightRequest } from '../application/light/describe-light.ts';
import { defaultChain } from '../application/light/default-chain.ts';
import type { Outcome } from '../contract/failures.ts';
import {
  EMPTY_LIGHT,
  type Light,
  type LitPhotograph,
  type LitPhotographs,
  type MeterInput,
} from '../contract/light.ts';
import type { Workspace } from '../contract/workspace.ts';
import type { Engine, JobOptions } from '../engine/engine.ts';
import type { LightSubject } from '../record/evenness.ts';
import type { RecordedBudget } from '../record/light-budget.ts';
import type { LightChain } from '../record/light-chain.ts';
import { translateBudget, translateChain, translateEvenness } from '../wording/light.ts';
import { translateFailure } from '../wording/failures.ts';
import type { CurrentState } from './current-state.ts';
import { FailedWork } from './job-list.ts';
import type { ImportedPhotograph, PhotographStore } from './photograph-store.ts';
import type { LightRole } from '../record/roles.ts';
import { LENS_ROLES } from '../record/roles.ts';

export interface LightServiceOptions {
  readonly state: CurrentState;
  readonly photographs: PhotographStore;
  readonly engine: Engine;
  readonly softwareVersion: string;
}

/** Light through glasses and light without them do not compare: one kind puts the other away. */

export class LightService {
  readonly #options: LightServiceOptions;

  constructor(options: LightServiceOptions) {
    this.#options = options;
  }

  get now(): Light {
    return this.#options.state.now.light ?? EMPTY_LIGHT;
  }

  /** All photographs that lie here, by their hash. */
  holds(sha256: string): boolean {
    return Object.values(this.now.photographs).some((photograph) => photograph?.sha256 === sha256);
  }

  add(role: LightRole, { name, sha256 }: ImportedPhotograph): Promise<Outcome<Workspace>> {
    return this.#change((before) => lay(before, { [role]: { name, sha256 } }));
  }

  /** The photographs through the lenses, as they lie among the shots. */
  async takeShots(): Promise<Outcome<Workspace>> {
    const { shots } = this.#options.state.now;
    const found = LENS_ROLES.flatMap((role) => {
      const shot = shots.find(({ slot }) => slot === role);
      return shot ? [[role, { name: shot.name, sha256: shot.sha256 }] as const] : [];
    });
    if (found.length === 0) return { ok: false, failure: translateFailure('shots-missing') };
    return this.#change((before) => ({ ...lay(before, Object.fromEntries(found)), subject: 'target' }));
  }

  setSubject(subject: LightSubject): Promise<Outcome<Workspace>> {
    return this.#change((before) => ({ ...before, subject, meter: null, evenness: null }));
  }

  setMeter(meter: MeterInput | null): Promise<Outcome<Workspace>> {
    return this.#change((before) => ({ ...before, meter, evenness: null }));
  }

  remove(role: LightRole): Promise<Outcome<Workspace>> {
    return this.#change((before) => lay(before, { [role]: null }));
  }

  measure(): Outcome<{ job: number }> {
    const { state } = this.#options;
    const now = this.now;
    const { bare, ...lit } = now.photographs;
    if (!bare && LENS_ROLES.every((role) => lit[role] === null)) {
      return { ok: false, failure: translateFailure('light-missing') };
    }
    if (state.jobs.isRunning('light')) return { ok: false, failure: translateFailure('already-measuring') };
    return { ok: true, value: { job: state.jobs.start('light', (options) => this.#measure(now, options)) } };
  }

  /** The chain is kept as it was reckoned. */
  async reckon(chain: LightChain): Promise<Outcome<RecordedBudget>> {
    const kept = await this.#change((before) => ({ ...before, chain }));
    if (!kept.ok) return kept;
    return { ok: true, value: translateBudget(computeBudget(chain, this.#options.softwareVersion)) };
  }

  usual(start: LightChain['start'], readFromMetallicScreen: boolean): LightChain {
    const { house } = this.#options.state.now;
    return translateChain(defaultChain({ start, readFromMetallicScreen, ...(house ? { house } : {}) }));
  }

  async #measure(asked: Light, options: JobOptions): Promise<void> {
    const { engine } = this.#options;
    const measured = translateEvenness(await engine.run('measure-light', await this.#request(asked), options));
    options.signal?.throwIfAborted();
    const isSame = ({ subject, photographs, meter }: Light) =>
      subject === asked.subject && photographs === asked.photographs && meter === asked.meter;
    const kept = await this.#change((before) => (isSame(before) ? { ...before, evenness: measured } : before));
    if (!kept.ok) throw new FailedWork(kept.failure);
  }

  async #request({ subject, photographs, meter }: Light): Promise<LightRequest> {
    const { state, softwareVersion } = this.#options;
    const pictures = [];
    for (const role of [...LENS_ROLES, 'bare'] as const) {
      const photograph = photographs[role];
      if (photograph) pictures.push({ ...(await this.#sourceOf(photograph)), role });
    }
    const [flat, turned] = [photographs['flat-field'], photographs['turned-camera']];
    return {
      subject,
      pictures,
      ...(flat ? { flat: await this.#sourceOf(flat) } : {}),
      ...(turned && !flat ? { turned: await this.#sourceOf(turned) } : {}),
      ...(meter
        ? {
            meter: {
              of: meter.of,
              place: meter.place,
              luminance_cd_m2: { value: meter.cd_m2, u: meter.u_cd_m2 },
              throughGlasses: meter.through_glasses,
            },
          }
        : {}),
      aspect: state.aspect,
      softwareVersion,
    };
  }

  async #sourceOf({ sha256, name }: LitPhotograph): Promise<{ path: string; name: string }> {
    const path = await this.#options.photographs.find(sha256);
    if (path === undefined) throw new FailedWork(translateFailure('photograph-missing', { name }));
    return { path, name };
  }

  #change(change: (before: Light) => Light): Promise<Outcome<Workspace>> {
    return this.#options.state.change((before) => ({ ...before, light: change(before.light ?? EMPTY_LIGHT) }));
  }
}

function lay(before: Light, laid: Partial<LitPhotographs>): Light {
  const cleared = laid.bare
    ? { 'left-lens': null, 'right-lens': null }
    : laid['left-lens'] || laid['right-lens']
      ? { bare: null }
      : {};
  return { ...before, photographs: { ...before.photographs, ...cleared, ...laid }, evenness: null };
}
