/**
 * Photographs of one set in the order of time, while the film runs: through the lenses of the glasses and without them,
 * several of each where that is asked for. Each shows the film as it stands in the gate just then.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import { createRandom } from '../kernel/random.ts';
import { type ExposureTime, exposeFilm, type FilmMotion, FRAMES_PER_SECOND, DEFAULT_FILM } from './film-motion.ts';
import { transmittance } from './polarization.ts';
import { type Scene, type SceneSet, type Shot, shotSeed } from './scene.ts';

export const SERIES_ROLES = ['left', 'right', 'bare'] as const;
export type SeriesRole = (typeof SERIES_ROLES)[number];

export interface SeriesOptions {
  /** What is photographed, in the order of time. */
  readonly order: readonly SeriesRole[];
  /** The film stands still where left out. */
  readonly motion?: FilmMotion | undefined;
  /** How many frames an exposure averages; 6 are a quarter of a second. */
  readonly framesPerExposure?: number | undefined;
  /** From one photograph to the next; the lens before the camera is changed meanwhile. */
  readonly interval_s?: number | undefined;
}

export interface SeriesPhotograph extends ExposureTime {
  readonly role: SeriesRole;
  /** Its file, without the ending: `left-lens`, `left-lens-2`, `bare`. */
  readonly name: string;
  readonly shot: Shot;
  readonly noiseSeed: number;
}

/** Drawn apart from the set, which stays as it is without it. */
const SERIES_FORK = 19;
/** A quarter of a second. */
export const DEFAULT_FRAMES_PER_EXPOSURE = 6;
const DEFAULT_INTERVAL_S = 8;

/** The same set and options give the same photographs. */
export function planSeries(set: SceneSet, options: SeriesOptions): SeriesPhotograph[] {
  const { order, motion } = options;
  const { framesPerExposure = DEFAULT_FRAMES_PER_EXPOSURE, interval_s = DEFAULT_INTERVAL_S } = options;
  const random = createRandom(set.seed).fork(SERIES_FORK);
  const times = order.map((_, i): ExposureTime => ({ start_s: i * interval_s, frames: framesPerExposure }));
  const film = set.scene.film ?? DEFAULT_FILM;
  const exposed = motion && exposeFilm(film, motion, times, random);
  const count = { left: 0, right: 0, bare: 0 };
  return order.map((role, i) => {
    count[role]++;
    const shot = role === 'bare' ? bareShot(set) : set.shots[role];
    const isFirst = count[role] === 1;
    return {
      ...times[i]!,
      role,
      name: `${role === 'bare' ? role : `${role}-lens`}${isFirst ? '' : `-${count[role]}`}`,
      shot: exposed ? { ...shot, frames: exposed[i]! } : shot,
      noiseSeed: role !== 'bare' && isFirst ? shotSeed(set, role) : shotSeed(set, 'left') + (i + 64) * 2 ** 20,
    };
  });
}

/** The set whose pair are the first photographs of a series through each lens. */
export function withPairOf(set: SceneSet, series: readonly SeriesPhotograph[]): SceneSet {
  const first = (lens: Eye) => series.find(({ role }) => role === lens)!.shot;
  return { ...set, shots: { left: first('left'), right: first('right') } };
}

/** Without glasses, the light of both pictures comes together: as bright as the brighter photograph of the pair. */
export function bareShot({ scene, shots }: SceneSet): Shot {
  const { brightness } = scene;
  const brightest = Math.max(...EYES.map((lens) => shots[lens].exposure * strongestThrough(scene, shots[lens].lens)));
  return { ...shots.left, lens: 'bare', exposure: brightest / (brightness.left + brightness.right) };
}

function strongestThrough({ brightness, polarization }: Scene, lens: Shot['lens']): number {
  return Math.max(...EYES.map((eye) => brightness[eye] * transmittance(polarization, eye, lens)));
}

/** What the sidecar says of a photograph of a series. */
export function describeSeriesPhotograph({ role, name, start_s, frames, shot }: SeriesPhotograph) {
  const mean = (eye: Eye) => {
    const sum = { x_ih: 0, y_ih: 0, turn_deg: 0 };
    for (const { share, shift_ih, turn_rad } of shot.frames ?? []) {
      sum.x_ih += share[eye] * shift_ih.x;
      sum.y_ih += share[eye] * shift_ih.y;
      sum.turn_deg += (share[eye] * turn_rad * 180) / Math.PI;
    }
    return sum;
  };
  return {
    role: role === 'bare' ? 'bare' : `${role}-lens`,
    file: `${name}.jpg`,
    start_s,
    exposure_s: frames / FRAMES_PER_SECOND,
    exposure: shot.exposure,
    /** Mean place of the film over the exposure, as each eye's picture had it. */
    film_place: { left: mean('left'), right: mean('right') },
    /** Shares of the exposure in percent, and places of the single frames. */
    frames: (shot.frames ?? []).map(({ share, shift_ih, turn_rad }) => ({
      share_pct: { left: 100 * share.left, right: 100 * share.right },
      x_ih: shift_ih.x,
      y_ih: shift_ih.y,
      turn_deg: (turn_rad * 180) / Math.PI,
    })),
  };
}
