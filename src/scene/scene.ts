/**
 * The plain data of a simulated house and of the photographs taken in it. Lengths are in picture heights (ih), photo
 * lengths in px, angles in degrees, light relative.
 */
import type { Eye } from '../kernel/eye.ts';
import type { Point } from '../kernel/point.ts';
import type { Camera } from './camera.ts';
import type { ScreenSurface } from './light.ts';
import type { Processing } from './develop-photograph.ts';
import type { Film, FilmFrame } from './film-motion.ts';
import type { GlassesLens } from './glasses.ts';
import type { Cut, Head } from './obstacles.ts';
import { GOOD_POLARIZATION, type Polarization } from './polarization.ts';
import type { PrintErrors } from './print-errors.ts';
import type { MirrorFigure, ProjectionLens, Projector } from './projector.ts';
import type { Sensor } from './sensor.ts';
import { NO_MISALIGNMENT } from './terms.ts';
import { DEFAULT_ASPECT } from '../kernel/aspect.ts';

export interface Scene {
  /** Picture width over picture height. */
  readonly aspect: number;
  readonly pictureHeight_m: number;
  readonly projector: Projector;
  readonly surface: ScreenSurface;
  readonly polarization: Polarization;
  /** Light of each eye's picture before the polarizers of the glasses. */
  readonly brightness: Readonly<Record<Eye, number>>;
  /** Light in the black parts of a picture, as a fraction of its white. */
  readonly blackLevel: number;
  /** Light of the house on everything the camera sees, as a fraction of the white of a picture at the hot spot. */
  readonly roomLight: number;
  /** Pieces cut off the pictures on their way to the screen. */
  readonly cuts: readonly Cut[];
  /** No film in the gate: the whole picture area is white. */
  readonly openGate?: boolean;
  /** Weak displaced copies of a picture; none where left out. */
  readonly strays?: readonly Stray[];
  /** The usual film where left out. */
  readonly film?: Film;
  /** Grain of the print: standard deviation of a photo pixel's light over its mean, of one frame; none where left out. */
  readonly grain?: number;
  /** How the print differs from the chart; not at all where left out. */
  readonly print?: PrintErrors;
  /** Without distortion where left out. */
  readonly projectionLens?: ProjectionLens;
  /** Mirrors of the two paths that are not plane. */
  readonly mirrors?: Readonly<Partial<Record<Eye, MirrorFigure>>>;
  /** Radius of a screen that is curved about an upright axis, hollow towards the audience; plane where left out. */
  readonly screenRadius_ih?: number;
  /** Standard deviation by which each eye's picture is out of focus on the screen; sharp where left out. */
  readonly blur_ih?: Readonly<Record<Eye, number>>;
  /** Lenses of the glasses that bend the view; plane and parallel where left out. */
  readonly glasses?: Readonly<Record<Eye, GlassesLens>>;
}

/** A copy that mirrors, panes or the edge between the two light paths throw beside the picture. */
export interface Stray {
  /** Whose picture it is a copy of. */
  readonly eye: Eye;
  /** From each point of the picture to the same point of the copy, ih; y up. */
  readonly offset_ih: Point;
  /** Its light over the picture's, before the glasses. */
  readonly strength: number;
  /** The picture whose polarizer its light passed; its own where left out. */
  readonly polarizedAs?: Eye;
}

export interface Shot {
  /** The lens of the glasses in front of the camera. */
  readonly lens: Eye | 'bare';
  readonly camera: Camera;
  /** Linear light that a picture of brightness 1 gets at the hot spot, on the lens axis, through a parallel lens; 1 = clipping. */
  readonly exposure: number;
  /** 1 = cos^4, 0 = none. */
  readonly vignetting: number;
  /** Standard deviation of the defocus, px. */
  readonly defocus_px: number;
  readonly motion: Motion;
  /** Place of the film in the gate, moves both pictures alike. */
  readonly weave_ih: Point;
  /** The frames of film that the exposure averages; one at rest where left out. */
  readonly frames?: readonly FilmFrame[] | undefined;
  readonly sensor: Sensor;
  /** What the camera makes of the sensor's picture; sRGB and nothing else where left out. */
  readonly processing?: Processing;
  /** Dark bands from rows that are read one after the other under a light that flickers. */
  readonly bands?: Bands;
  readonly heads: readonly Head[];
}

/** light(row) = 1 - depth (1 + cos(2 pi (row / period + phase))) / 2 */
export interface Bands {
  readonly depth: number;
  readonly period_px: number;
  /** In periods. */
  readonly phase: number;
}

/** A straight movement of the camera during the exposure. */
export interface Motion {
  readonly length_px: number;
  /** Counter-clockwise from the photograph's x as seen. */
  readonly angle_deg: number;
}

/** A pair of photographs of one simulated house, through the left and the right lens, ready to be rendered. */
export interface SceneSet {
  readonly seed: number;
  readonly scene: Scene;
  readonly shots: Readonly<Record<Eye, Shot>>;
  /** Quality of the JPEG files, 1 to 100. */
  readonly jpegQuality: number;
  /** What is wrong on purpose, for people. */
  readonly faults: readonly string[];
}

/** The noise of the two photographs of a set is independent and follows from its seed. */
export function shotSeed(set: SceneSet, lens: Eye): number {
  return set.seed * 2 + (lens === 'left' ? 0 : 1);
}

/** The Meridian: a 10.4 m wide metallic screen, a 27 m throw, and the seat from which its photographs are taken. */
export const MERIDIAN = {
  aspect: DEFAULT_ASPECT,
  pictureWidth_m: 10.4,
  throw_m: 27,
  portRake_deg: 6,
  cameraDistance_m: 15,
} as const;

export const MERIDIAN_SCENE: Scene = {
  aspect: MERIDIAN.aspect,
  pictureHeight_m: MERIDIAN.pictureWidth_m / MERIDIAN.aspect,
  projector: {
    throw_ih: (MERIDIAN.throw_m * MERIDIAN.aspect) / MERIDIAN.pictureWidth_m,
    portRake_deg: MERIDIAN.portRake_deg,
    portSide_deg: 0,
    misalignment: NO_MISALIGNMENT,
    carriedBy: 'both',
  },
  surface: { mattPart: 0.15, halfGain_deg: 14 },
  polarization: GOOD_POLARIZATION,
  brightness: { left: 1, right: 1 },
  blackLevel: 0.002,
  roomLight: 0.0008,
  cuts: [],
};

export const PLAIN_SENSOR: Sensor = {
  fullWell_e: 30000,
  readNoise_e: 4,
  channelSensitivity: [0.6, 1, 0.7],
  tint: [1, 1, 1],
};

/** A clean photograph, from which others are made by changing fields. */
export function plainShot(lens: Shot['lens'], camera: Camera): Shot {
  return {
    lens,
    camera,
    exposure: 0.75,
    vignetting: 0.6,
    defocus_px: 0.8,
    motion: { length_px: 0, angle_deg: 0 },
    weave_ih: { x: 0, y: 0 },
    sensor: PLAIN_SENSOR,
    heads: [],
  };
}
