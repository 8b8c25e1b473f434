/**
 * Null search from photographs: a series through one lens of the glasses, between whose shots the glasses or a polarizer
 * were turned, and one reference through the other lens, which shows the leaking picture strongly and so says where its
 * marks are.
 *
 *   photographs -> marks -> leak over signal of each -> null, way to it, least leak
 *
 * Camera, film and exposure stay as they are throughout; a camera that moved is noticed by the leak and refused.
 */
import { type Eye, otherEye } from '../../kernel/eye.ts';
import type { Measured } from '../../kernel/measured.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { project } from '../../kernel/view.ts';
import { findNullBySteps, type FoundNullInSteps } from '../../light/null-by-steps.ts';
import { findNull, type FoundNull, type TurnedThing } from '../../light/null-search.ts';
import type { CameraFacts } from '../../photo/photo.ts';
import { readPhoto } from '../../photo/read-photo.ts';
import { type Chart, layoutChart } from '../../target/chart.ts';
import { compareShots } from '../pair/compare-shots.ts';
import { type ExaminedShot, examineThoroughly } from '../shot/examine-shot.ts';
import { compareExposures, judgeTones } from '../shot/judge-camera.ts';
import { measureTone } from '../shot/measure-tone.ts';
import type { PhotoSource } from '../shot/read-photographs.ts';
import { placeInFrame } from '../shot/sample-light.ts';
import { DEFAULT_ASPECT } from '../../kernel/aspect.ts';

export interface SeriesShot extends PhotoSource {
  /** How far it is turned, by the operator's count; left out of all shots where the steps are equal and unknown. */
  readonly turn_deg?: number;
}

export interface NullRequest {
  /** The lens of the glasses before the camera throughout the series. */
  readonly lens: Eye;
  readonly turned: TurnedThing;
  /** In the order in which they were taken; the last one is how things stand now. */
  readonly shots: readonly SeriesShot[];
  /** Through the other lens, untouched. */
  readonly reference: PhotoSource;
  /** Standard uncertainty of each turn. */
  readonly turnU_deg?: number;
  /** Leaking picture's light over the other one's, where it is known. */
  readonly balance?: Measured;
  readonly aspect?: number;
  /** Called with the number of photographs done. */
  readonly onShot?: (done: number) => void;
}

export interface SeriesLeak {
  readonly file: string;
  readonly turn_deg: number | null;
  /** Leaking picture over the lens's own, as a fraction. */
  readonly leak: Measured;
}

/**
 * What should be known of the photographs beside the result: a leak is a part of its own photograph, so that exposures may
 * differ as long as nothing burns out, but a bent tone curve bends every leak.
 */
export type NullNote = 'exposure-differs' | 'exposure-unknown' | 'tone-curve-bent' | 'tone-curve-unknown';

export type NullFromPhotographs = { readonly leaks: readonly SeriesLeak[]; readonly notes: readonly NullNote[] } & (
  | { readonly outcome: 'found'; readonly by: 'turns'; readonly null: FoundNull }
  | { readonly outcome: 'found'; readonly by: 'steps'; readonly null: FoundNullInSteps }
  | {
      readonly outcome: 'refused';
      readonly refusal: Refusal<string>;
      /** The photograph that is to blame; null where it is the series as a whole. */
      readonly file: string | null;
    }
);

interface SeenShot {
  readonly leak: Measured;
  /** Exponent of the photograph's tone curve; null where the grey steps do not show it. */
  readonly tone: Measured | null;
}

export async function findNullInPhotographs(request: NullRequest): Promise<NullFromPhotographs> {
  const { lens, shots, reference, aspect = DEFAULT_ASPECT, onShot } = request;
  const leaks: SeriesLeak[] = [];
  const seen: SeenShot[] = [];
  const cameras: CameraFacts[] = [];
  const notes = () => noteCamera(cameras, seen);
  const refused = (refusal: Refusal<string>, file: string | null): NullFromPhotographs => ({
    outcome: 'refused',
    refusal,
    file,
    leaks,
    notes: notes(),
  });
  const counted = shots.filter(({ turn_deg }) => turn_deg !== undefined).length;
  if (counted !== 0 && counted !== shots.length)
    return refused(refuse('turns-incomplete', { counted, shots: shots.length }), null);

  const chart = layoutChart(aspect);
  const other = await examine(reference, chart);
  if (other.outcome === 'refused') return refused(other, reference.name);
  cameras.push(other.camera);
  for (const { path, name, turn_deg = null } of shots) {
    const shot = await examine({ path, name }, chart);
    if (shot.outcome === 'refused') return refused(shot, name);
    const found = lookAtShot(shot.look, other.look, lens, chart);
    if ('outcome' in found) return refused(found, name);
    cameras.push(shot.camera);
    seen.push(found);
    leaks.push({ file: name, turn_deg, leak: found.leak });
    onShot?.(leaks.length);
  }
  const found = search(request, leaks, counted > 0);
  return found.outcome === 'refused' ? refused(found.refusal, null) : { ...found, leaks, notes: notes() };
}

/** The tone curve is taken where the lens's own picture stands clearest. */
function noteCamera(cameras: readonly CameraFacts[], seen: readonly SeenShot[]): NullNote[] {
  const [clearest] = seen.toSorted((a, b) => a.leak.value - b.leak.value);
  const exposure = compareExposures(cameras);
  const bend = clearest && judgeTones([clearest.tone]);
  return [exposure, bend].filter((note) => note !== undefined);
}

type Found =
  | { readonly outcome: 'found'; readonly by: 'turns'; readonly null: FoundNull }
  | { readonly outcome: 'found'; readonly by: 'steps'; readonly null: FoundNullInSteps }
  | { readonly outcome: 'refused'; readonly refusal: Refusal<string> };

function search({ turned, turnU_deg, balance }: NullRequest, leaks: readonly SeriesLeak[], isCounted: boolean): Found {
  const known = balance ? { balance } : {};
  if (isCounted) {
    const series = leaks.map(({ turn_deg, leak }) => ({ turn_deg: turn_deg!, leak }));
    const found = findNull({ turned, shots: series, ...known, ...(turnU_deg === undefined ? {} : { turnU_deg }) });
    if (found.outcome === 'refused') return { outcome: 'refused', refusal: found };
    return { outcome: 'found', by: 'turns', null: found };
  }
  const found = findNullBySteps({ turned, leaks: leaks.map(({ leak }) => leak), ...known });
  if (found.outcome === 'refused') return { outcome: 'refused', refusal: found };
  return { outcome: 'found', by: 'steps', null: found };
}

interface Examined {
  readonly outcome: 'examined';
  readonly camera: CameraFacts;
  readonly look: ExaminedShot;
}

async function examine({ path }: PhotoSource, chart: Chart): Promise<Examined | Refusal<string>> {
  const read = await readPhoto(path);
  if (read.outcome === 'refused') return read;
  const look = await examineThoroughly(read.photo.pixels, chart);
  return look.outcome === 'refused' ? look : { outcome: 'examined', camera: read.photo.camera, look };
}

/** Leak over signal in a shot through `lens`, with the other lens's photograph to say where the leaking picture lies. */
function lookAtShot(shot: ExaminedShot, other: ExaminedShot, lens: Eye, chart: Chart): SeenShot | Refusal<string> {
  const { pixels: a } = shot;
  const { pixels: b } = other;
  if (a.width !== b.width || a.height !== b.height) return refuse('different-size');
  const pair = lens === 'left' ? { left: shot, right: other } : { left: other, right: shot };
  if (!other.fit.views[otherEye(lens)]) return refuse('reference-shows-wrong-picture', { lens: otherEye(lens) });
  const compared = compareShots(pair, chart);
  if (compared.outcome === 'refused') return compared;
  const leak = lens === 'left' ? compared.eyes.crosstalkLeft : compared.eyes.crosstalkRight;
  const { surface } = compared.observations[lens][lens];
  const view = compared.views[lens];
  const tone =
    surface && shot.fit.views[lens]
      ? measureTone(a, chart, lens, view, (at) => surface.strengthAt(placeInFrame(a, project(view, at))))
      : undefined;
  return { leak, tone: tone ?? null };
}
