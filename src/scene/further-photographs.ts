/**
 * Photographs beside the pair of a set, for the measurements that need others, with what each exactly shows. All are planned
 * at once and rendered one by one: a photograph of twelve megapixels takes seconds.
 */
import type { Pixels } from '../imaging/pixels.ts';
import { EYES, type Eye, otherEye } from '../kernel/eye.ts';
import type { Point } from '../kernel/point.ts';
import { createRandom, type RandomSource } from '../kernel/random.ts';
import { exposeFilm, type FilmMotion, DEFAULT_FILM } from './film-motion.ts';
import { leakThrough, planNullSeries, turnLeakingPolarizer } from './null-series.ts';
import { bareShot, DEFAULT_FRAMES_PER_EXPOSURE } from './photograph-series.ts';
import { transmittance } from './polarization.ts';
import { composePortScene, portTransmittance, renderPorts } from './render-ports.ts';
import { renderFlatField, renderShot } from './render-shot.ts';
import { type SceneSet, type Shot, shotSeed } from './scene.ts';
import { computeTrueEvenness_pct, type TrueEvenness } from './truth.ts';

export const FURTHER_KINDS = ['bare', 'closing', 'flat', 'open-gate', 'ports', 'null-series'] as const;
export type FurtherKind = (typeof FURTHER_KINDS)[number];

export interface FurtherPhotograph {
  /** Its file, without the ending. */
  readonly name: string;
  readonly render: () => Pixels;
}

interface Exact {
  readonly value: number;
}

/** What the sidecar says of them; files with the ending of JPEG. */
export interface FurtherTruth {
  /** Each eye's picture over its centre, in the photograph of the pair that shows it more strongly. */
  readonly evenness?: {
    readonly left_eye_of_centre_pct: TrueEvenness;
    readonly right_eye_of_centre_pct: TrueEvenness;
    /** Light of the right-eye picture over the left-eye picture's, each where it shows more strongly. */
    readonly right_over_left_pct: Exact;
  };
  readonly bare?: { readonly file: string; readonly exposure: number };
  readonly closing?: { readonly file: string; readonly weave_ih: Point };
  /** `slope_pct`: how much brighter the surface is at the right side of the frame than at the left. */
  readonly flat?: { readonly file: string; readonly slope_pct: Exact };
  readonly open_gate?: { readonly file: string; readonly exposure: number; readonly of_centre_pct: TrueEvenness };
  readonly ports?: { readonly files: Readonly<Record<Eye, string>>; readonly ports: readonly TruePort[] };
  readonly null_series?: TrueNullSeries;
}

interface TruePort {
  readonly place: 'upper' | 'lower';
  /** Whose picture leaves by it. */
  readonly eye: Eye;
  readonly centre_px: readonly [number, number];
  /** Light through each lens over that through a parallel one. */
  readonly passage: Readonly<Record<Eye, number>>;
  /** Its light through the lens through which it is darker, over that through the other one. */
  readonly kept_pct: Exact;
  readonly darker_through: Eye;
}

export interface TrueNullSeries {
  readonly lens: Eye;
  readonly turned: 'polarizer';
  readonly reference: string;
  readonly shots: readonly { readonly file: string; readonly turn_deg: number; readonly leak_pct: Exact }[];
  /** On the scale of the turns. */
  readonly null_deg: Exact;
  readonly least_leak_pct: Exact;
}

export interface FurtherRequest {
  readonly kinds: readonly FurtherKind[];
  /** Standard deviation of the film's place in the gate from shot to shot. */
  readonly weave_ih?: number;
  /** How the film moves from frame to frame; it stands still where left out. */
  readonly motion?: FilmMotion | undefined;
  readonly framesPerExposure?: number | undefined;
  /** Where the set's own photographs hold one without glasses already, under the same name. */
  readonly isBareTaken?: boolean;
  readonly upperPortShows?: Eye;
}

export interface FurtherPhotographs {
  readonly photographs: readonly FurtherPhotograph[];
  readonly truth: FurtherTruth;
}

/** Everything here is drawn apart from the set, which stays as it is without it. */
const FURTHER_FORK = 17;

/** The same set and request give the same bytes. Throws RangeError for what this set's house cannot show. */
export function planFurtherPhotographs(set: SceneSet, request: FurtherRequest): FurtherPhotographs {
  const kinds = FURTHER_KINDS.filter((kind) => request.kinds.includes(kind));
  const parts = kinds.map((kind) => {
    const random = createRandom(set.seed).fork(FURTHER_FORK).fork(FURTHER_KINDS.indexOf(kind));
    return PLANS[kind](set, random, request);
  });
  return {
    photographs: parts.flatMap(({ photographs }) => photographs),
    truth: Object.assign({}, ...parts.map(({ truth }) => truth)) as FurtherTruth,
  };
}

type Plan = (set: SceneSet, random: RandomSource, request: FurtherRequest) => FurtherPhotographs;

const PLANS: Readonly<Record<FurtherKind, Plan>> = {
  bare: (set, random, { isBareTaken = false, ...request }) => {
    const shot = onFilm(set, bareShot(set), random, request);
    const photograph = { name: 'bare', render: () => renderShot(set.scene, shot, noiseSeed(set, 0)).pixels };
    return {
      photographs: isBareTaken ? [] : [photograph],
      truth: { evenness: evennessOf(set), bare: { file: fileOf('bare'), exposure: shot.exposure } },
    };
  },
  closing: (set, random, request) => {
    // Whatever was touched between the photographs of the pair stays as it is now.
    const { left, right } = set.shots;
    const weave_ih = drawWeave(random, request.weave_ih);
    const shot = onFilm(set, { ...left, camera: right.camera, weave_ih }, random, request);
    const photograph = { name: 'closing', render: () => renderShot(set.scene, shot, noiseSeed(set, 1)).pixels };
    return {
      photographs: [photograph],
      truth: { closing: { file: fileOf('closing'), weave_ih: shot.weave_ih } },
    };
  },
  flat: (set, random) => {
    const slope = random.between(-0.03, 0.03);
    const flat = { light: 0.5, slope };
    const photograph = { name: 'flat', render: () => renderFlatField(set.shots.left, flat, noiseSeed(set, 2)) };
    return {
      photographs: [photograph],
      truth: { evenness: evennessOf(set), flat: { file: fileOf('flat'), slope_pct: { value: 100 * slope } } },
    };
  },
  'open-gate': (set) => {
    const shot = { ...bareShot(set), weave_ih: { x: 0, y: 0 } };
    const scene = { ...set.scene, openGate: true, projector: { ...set.scene.projector, filmTurnedOver: false } };
    const photograph = { name: 'open-gate', render: () => renderShot(scene, shot, noiseSeed(set, 3)).pixels };
    const of_centre_pct = computeTrueEvenness_pct(scene, shot);
    return {
      photographs: [photograph],
      truth: { open_gate: { file: fileOf('open-gate'), exposure: shot.exposure, of_centre_pct } },
    };
  },
  ports: (set, random, { upperPortShows = 'right' }) => {
    const front = composePortScene(set, upperPortShows, random);
    const nameOf = (lens: Eye) => `ports-${lens}`;
    const photographs = EYES.map((lens, i) => ({
      name: nameOf(lens),
      render: () => renderPorts(front, { lens: lensMeant(set, lens), exposure: 1 }, noiseSeed(set, 4 + i)),
    }));
    const ports = front.ports.map((port, i): TruePort => {
      const through = (lens: Eye) => portTransmittance(front.polarization, port, lensMeant(set, lens));
      const [left, right] = [through('left'), through('right')];
      const kept_pct = { value: (100 * Math.min(left, right)) / Math.max(left, right) };
      const centre_px = [port.centre.x, port.centre.y] as const;
      const place = i === 0 ? 'upper' : 'lower';
      const darker_through = left < right ? 'left' : 'right';
      return { place, eye: port.eye, centre_px, passage: { left, right }, kept_pct, darker_through };
    });
    const files = { left: fileOf(nameOf('left')), right: fileOf(nameOf('right')) };
    return { photographs, truth: { ports: { files, ports } } };
  },
  'null-series': (set, random, request) => {
    const { lens, turns_deg, null_deg } = planNullSeries(set, random);
    const shotThrough = (through: Eye): Shot => {
      const weave_ih = drawWeave(random, request.weave_ih);
      return onFilm(set, { ...set.shots.left, lens: through, weave_ih }, random, request);
    };
    const reference = shotThrough(otherEye(lens));
    const turned = turns_deg.map((turn_deg) => {
      const scene = turnLeakingPolarizer(set.scene, lens, turn_deg);
      return { turn_deg, scene, shot: shotThrough(lens), name: `${SERIES_FOLDER}/${nameOfTurn(turn_deg)}` };
    });
    const referenceName = `${SERIES_FOLDER}/reference`;
    const leak_pct = (turn_deg: number) => ({ value: 100 * leakThrough(set.scene, lens, turn_deg) });
    return {
      photographs: [
        { name: referenceName, render: () => renderShot(set.scene, reference, noiseSeed(set, 6)).pixels },
        ...turned.map(({ name, scene, shot }, i) => ({
          name,
          render: () => renderShot(scene, shot, noiseSeed(set, 7 + i)).pixels,
        })),
      ],
      truth: {
        null_series: {
          lens,
          turned: 'polarizer',
          reference: fileOf(referenceName),
          shots: turned.map(({ name, turn_deg }) => ({ file: fileOf(name), turn_deg, leak_pct: leak_pct(turn_deg) })),
          null_deg: { value: null_deg },
          least_leak_pct: leak_pct(null_deg),
        },
      },
    };
  },
};

/** The turn stands in the file's name as a photographer would write it. */
const SERIES_FOLDER = 'null-series';
function nameOfTurn(turn_deg: number): string {
  const degrees = String(Math.abs(turn_deg)).padStart(2, '0');
  return `${turn_deg < 0 ? '-' : '+'}${degrees}deg`;
}

function fileOf(name: string): string {
  return `${name}.jpg`;
}

/** Apart from the noise of the pair, and of every other photograph. */
function noiseSeed(set: SceneSet, index: number): number {
  return shotSeed(set, 'left') + (index + 1) * 2 ** 20;
}

function drawWeave(random: RandomSource, weave_ih = 0): Point {
  return weave_ih === 0 ? { x: 0, y: 0 } : { x: weave_ih * random.normal(), y: weave_ih * random.normal() };
}

/** The shot as the film stands in the gate while it is taken. */
function onFilm(
  { scene }: SceneSet,
  shot: Shot,
  random: RandomSource,
  { motion, framesPerExposure }: FurtherRequest,
): Shot {
  if (!motion) return shot;
  const frames = framesPerExposure ?? DEFAULT_FRAMES_PER_EXPOSURE;
  // Each photograph has a run of the film of its own.
  const run = random.fork(Math.floor(2 ** 31 * random.uniform()));
  const [exposed] = exposeFilm(scene.film ?? DEFAULT_FILM, motion, [{ start_s: 0, frames }], run);
  return { ...shot, frames: exposed };
}

/** That one lens was photographed twice is a slip of the pair alone. */
function lensMeant({ shots }: SceneSet, lens: Eye): Shot['lens'] {
  const isSlip = shots.left.lens === shots.right.lens && shots.left.lens !== 'bare';
  return isSlip ? lens : shots[lens].lens;
}

function evennessOf({ scene, shots }: SceneSet): NonNullable<FurtherTruth['evenness']> {
  const lightIn = (shot: Shot, eye: Eye) =>
    shot.exposure * scene.brightness[eye] * transmittance(scene.polarization, eye, shot.lens);
  const clearest = (eye: Eye) => (lightIn(shots.left, eye) > lightIn(shots.right, eye) ? shots.left : shots.right);
  const [left, right] = [clearest('left'), clearest('right')];
  return {
    left_eye_of_centre_pct: computeTrueEvenness_pct(scene, left, ['left']),
    right_eye_of_centre_pct: computeTrueEvenness_pct(scene, right, ['right']),
    right_over_left_pct: { value: (100 * lightIn(right, 'right')) / lightIn(left, 'left') },
  };
}
