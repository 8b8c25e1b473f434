/**
 * What a practice set may have beside its misalignment: film that moves, further photographs in time, a curved screen, lenses
 * and glasses that bend, a print that is not exact, a camera that processes. Without any of it a set is what it was.
 */
import { EYES } from '../kernel/eye.ts';
import { createRandom, type RandomSource } from '../kernel/random.ts';
import { UnmetRequest } from '../kernel/unmet-request.ts';
import type { Processing } from './develop-photograph.ts';
import { type Film, type FilmMotion, DEFAULT_FILM } from './film-motion.ts';
import { planSeries, type SeriesPhotograph, type SeriesRole } from './photograph-series.ts';
import type { PrintErrors } from './print-errors.ts';
import type { Scene, SceneSet, Shot } from './scene.ts';

export const CAMERA_KINDS = ['plain', 'sharpened', 'phone'] as const;
export type CameraKind = (typeof CAMERA_KINDS)[number];
/** Of the camera's lens, beside the distortion that is drawn: elements off centre, or barrel that turns into pincushion. */
export const LENS_KINDS = ['radial', 'decentred', 'moustache'] as const;
export type LensKind = (typeof LENS_KINDS)[number];
export const TEXTURE_KINDS = ['perforated', 'seamed'] as const;
export type TextureKind = (typeof TEXTURE_KINDS)[number];

export interface RehearsalConditions {
  /** How many photographs without glasses follow the others. */
  readonly bareCount?: number | undefined;
  /** What is photographed, in the order of time; a left and a right one, in this order, where left out. */
  readonly order?: readonly SeriesRole[] | undefined;
  /** Standard deviation of the film's place in each direction: jump up and down, weave sideways; the film turns with it. */
  readonly filmMotion_um?: number | undefined;
  readonly framesPerExposure?: number | undefined;
  /** The camera stands so far to the right of the screen's normal. */
  readonly cameraAside_deg?: number | undefined;
  /** Radius of the screen in picture widths. */
  readonly curve_widths?: number | undefined;
  /** Of the projection lens; pincushion is positive. */
  readonly distortion_pct?: number | undefined;
  /** How far the two lenses of the glasses shift the photograph against each other, in a drawn direction. */
  readonly wedge_px?: number | undefined;
  /** Standard deviation of what a wavy surface of the glasses does. */
  readonly wavy_px?: number | undefined;
  /** Standard deviation of each mark's print error, of the smooth one, and of one picture against the other (ten times). */
  readonly printErrors_pct?: number | undefined;
  readonly camera?: CameraKind | undefined;
  readonly lens?: LensKind | undefined;
  readonly texture?: readonly TextureKind[] | undefined;
  /** Grain of the print: standard deviation of a photo pixel's light over its mean, of one frame. */
  readonly grain_pct?: number | undefined;
  /** Dark bands from a light that flickers: how deep. */
  readonly bands_pct?: number | undefined;
  /** Standard deviation by which each eye's picture is out of focus on the screen, percent of the picture height. */
  readonly soft_pct?: { readonly left?: number | undefined; readonly right?: number | undefined } | undefined;
}

const CONDITIONS_FORK = 23;

/** Throws RangeError for an order without a pair. */
export function planRehearsalSeries(set: SceneSet, conditions: RehearsalConditions): SeriesPhotograph[] | undefined {
  const { bareCount = 0, order, filmMotion_um = 0, framesPerExposure } = conditions;
  if (bareCount === 0 && order === undefined && filmMotion_um === 0) return undefined;
  const lenses = order ?? EYES;
  if (!lenses.includes('left') || !lenses.includes('right')) {
    throw new UnmetRequest('pair-needed');
  }
  const bare = Array.from({ length: bareCount }, () => 'bare' as const);
  return planSeries(set, { order: [...lenses, ...bare], motion: motionOf(filmMotion_um), framesPerExposure });
}

/** The film is guided at two places a frame apart: where it stands off at one of them and not at the other, it is turned. */
const GUIDE_MM = 19;

/** Of film that stands off its place by so much in each direction; undefined where it stands still. */
export function motionOf(film_um: number): FilmMotion | undefined {
  if (film_um === 0) return undefined;
  const mm = film_um / 1000;
  return { jump_mm: mm, weave_mm: mm, turn_deg: (Math.SQRT2 * mm * 180) / (GUIDE_MM * Math.PI) };
}

/** The scene with what bends it; the same one where nothing does. `film`: the house's, where its facts are known. */
export function bendScene(
  scene: Scene,
  conditions: RehearsalConditions,
  seed: number,
  film: Film = DEFAULT_FILM,
): Scene {
  const { filmMotion_um, curve_widths, distortion_pct, wedge_px, wavy_px, printErrors_pct } = conditions;
  const { texture = [], grain_pct, soft_pct } = conditions;
  const random = createRandom(seed).fork(CONDITIONS_FORK);
  return {
    ...scene,
    ...((filmMotion_um || distortion_pct) && { film }),
    ...(curve_widths && { screenRadius_ih: curve_widths * scene.aspect }),
    ...(distortion_pct && { projectionLens: { distortion_pct: { left: distortion_pct, right: distortion_pct } } }),
    ...((wedge_px || wavy_px) && { glasses: drawGlasses(random.fork(1), wedge_px ?? 0, wavy_px ?? 0) }),
    ...(printErrors_pct && { print: drawPrint(random.fork(2), printErrors_pct) }),
    ...(grain_pct && { grain: grain_pct / 100 }),
    ...(texture.length > 0 && { surface: { ...scene.surface, texture: texturesOf(texture) } }),
    ...((soft_pct?.left ?? soft_pct?.right) !== undefined && {
      blur_ih: { left: (soft_pct?.left ?? 0) / 100, right: (soft_pct?.right ?? 0) / 100 },
    }),
  };
}

/** The shot as the asked-for camera takes it, with the asked-for lens, under a light that flickers or not. */
export function takeWith({ camera, lens, bands_pct }: RehearsalConditions, shot: Shot, seed: number): Shot {
  const processing = PROCESSING[camera ?? 'plain'];
  const random = createRandom(seed).fork(CONDITIONS_FORK).fork(3);
  const { distortion, height_px } = shot.camera;
  const bent = LENSES[lens ?? 'radial'];
  return {
    ...shot,
    ...(processing && { processing }),
    ...(bent && { camera: { ...shot.camera, distortion: { ...distortion, ...bent } } }),
    ...(bands_pct && { bands: { depth: bands_pct / 100, period_px: height_px / 5, phase: random.uniform() } }),
  };
}

/** What real lenses have at most; in units of half the diagonal. */
const LENSES: Readonly<Record<LensKind, Partial<Shot['camera']['distortion']> | undefined>> = {
  radial: undefined,
  decentred: { decentring: [3e-4, -2e-4] },
  moustache: { k1: -0.03, k2: 0.02, k3: 0.015 },
};

/** Holes of a perforated screen take 4.5 % of its area; strips of a screen 10 m wide are sewn every 1.2 m. */
function texturesOf(kinds: readonly TextureKind[]): NonNullable<Scene['surface']['texture']> {
  return {
    ...(kinds.includes('perforated') && { holes: { part: 0.045, pitch_ih: 0.0011 } }),
    ...(kinds.includes('seamed') && { seams: { apart_ih: 0.27, width_ih: 0.0006, depth: 0.15 } }),
  };
}

const PROCESSING: Readonly<Record<CameraKind, Processing | undefined>> = {
  plain: undefined,
  sharpened: { contrast: 0.3, sharpen: { amount: 0.8, radius_px: 2 } },
  phone: {
    mosaic: true,
    denoise: { threshold: 0.02 },
    contrast: 0.25,
    localTones: { amount: 0.15, radius_px: 60 },
    sharpen: { amount: 0.5, radius_px: 1.5 },
    lateralColour: { red: 2e-4, blue: -3e-4 },
  },
};

function drawGlasses(random: RandomSource, wedge_px: number, wavy_px: number): NonNullable<Scene['glasses']> {
  const angle = random.between(0, 2 * Math.PI);
  const half = { x: (wedge_px / 2) * Math.cos(angle), y: (wedge_px / 2) * Math.sin(angle) };
  const lens = (sign: number) => ({
    shift_px: { x: sign * half.x, y: sign * half.y },
    ...(wavy_px > 0 && { wave: { seed: Math.floor(2 ** 31 * random.uniform()), sigma_px: wavy_px, length_px: 450 } }),
  });
  return { left: lens(1), right: lens(-1) };
}

function drawPrint(random: RandomSource, percent: number): PrintErrors {
  const sigma = percent / 100;
  return {
    seed: Math.floor(2 ** 31 * random.uniform()),
    mark_ih: sigma,
    smooth_ih: sigma,
    smoothLength_ih: 0.3,
    // 0.005 % of the height for a mark and 0.005 mm of the film, 0.056 %, for the two pictures: both usual, about ten apart.
    eyeAgainstEye_ih: { x: 10 * sigma * random.normal(), y: 10 * sigma * random.normal() },
  };
}
