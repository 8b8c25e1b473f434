/**
 * Faults that can be planted in a simulated house, one by one and together, each with the size that it has there.
 *
 * Sizes are drawn from the ranges in which a technician meets them. They are said here apart from the rooms that
 * diagnose, whose judge this is.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import type { RandomSource } from '../kernel/random.ts';
import { exposureForPeak } from './place-camera.ts';
import type { Polarization } from './polarization.ts';
import type { Scene, SceneSet, Shot } from './scene.ts';
import type { SceneTerms } from './terms.ts';
import type { FaultName } from './fault-names.ts';

export interface Fault {
  readonly name: FaultName;
  /** For a fault of one picture or lens. */
  readonly eye: Eye;
  /** Degrees, parts of the light, or fractions; with its sign. */
  readonly size: number;
  /** A second number for faults of the pictures' shape, and the place of a patch. */
  readonly other: number;
}

/** What half a frame moves the pictures apart by, right minus left, ih: (0.748 in - 2 cc) / h, ports as usual. */
export function halfFrameOffset(film: FilmOfScene, aspect: number): number {
  const height_in = film.pictureHeight_in ?? DEFAULT_PICTURE_WIDTH_IN / aspect;
  const upperTooHigh = (FRAME_IN - 2 * film.centreToCentre_in) / height_in;
  return film.upperPortShows === 'left' ? upperTooHigh : -upperTooHigh;
}

/** Four perforations of 0.1870 in: SMPTE 102. */
const FRAME_IN = 0.748;
/** 20.95 mm: ISO 2907. */
const DEFAULT_PICTURE_WIDTH_IN = 20.95 / 25.4;

export interface FilmOfScene {
  readonly centreToCentre_in: number;
  readonly pictureHeight_in?: number | undefined;
  readonly upperPortShows?: Eye | undefined;
}

/** A fault of a size that shows. `halfFrame_ih`: what half a frame moves the pictures apart by on this film. */
export function drawFault(name: FaultName, random: RandomSource, halfFrame_ih: number): Fault {
  const eye: Eye = random.uniform() < 0.5 ? 'left' : 'right';
  const sign = random.uniform() < 0.5 ? -1 : 1;
  const across = random.between(-1, 1);
  const grows = (low: number, high: number) => low * (high / low) ** random.uniform();
  const sizes: Readonly<Record<FaultName, () => number>> = {
    'projector-polarizer-turned': () => sign * random.between(7, 30),
    'glasses-lens-turned': () => sign * random.between(7, 25),
    'one-path-depolarizes': () => grows(0.04, 0.8),
    'glasses-tilted': () => sign * random.between(6, 12),
    'both-polarizers-turned': () => sign * random.between(6, 15),
    'screen-depolarizes': () => grows(0.05, 0.9),
    'screen-patch-depolarizes': () => random.between(0.6, 1),
    'port-glass-strained': () => grows(0.04, 0.2),
    'polarizers-missing': () => 1,
    'polarization-kinds-mixed': () => 1,
    'camera-filters-missing': () => 1,
    'polarizers-exchanged': () => 1,
    'camera-filters-exchanged': () => 1,
    'half-frame-threading': () => halfFrame_ih,
    'picture-missing': () => 1,
    'film-turned-over': () => 1,
    'photograph-mistaken': () => 1,
    'path-lengths-differ': () => sign * random.between(0.006, 0.015),
    'lens-elements-differ': () => sign * random.between(0.006, 0.015),
    'mirror-not-flat': () => sign * random.between(0.006, 0.012),
    'mirror-strained': () => sign * random.between(0.009, 0.015),
    'attachment-off-axis': () => sign * random.between(0.01, 0.02),
    'stray-image': () => grows(0.015, 0.05),
  };
  return { name, eye, size: sizes[name](), other: across };
}

/** The set with a fault in it, exposed anew as its photographer would. */
export function plantFault(set: SceneSet, fault: Fault): SceneSet {
  const scene = spoilScene(set.scene, fault);
  const shots = { left: spoilShot(set.shots.left, fault), right: spoilShot(set.shots.right, fault) };
  const exposure = Math.min(...EYES.map((lens) => exposureForPeak(scene, shots[lens], 0.75)));
  return {
    ...set,
    scene,
    shots: { left: { ...shots.left, exposure }, right: { ...shots.right, exposure } },
    faults: [...set.faults, fault.name],
  };
}

function spoilShot(shot: Shot, { name, eye }: Fault): Shot {
  if (name === 'camera-filters-missing') return { ...shot, lens: 'bare' };
  // Nobody turned the other lens before the camera.
  if (name === 'photograph-mistaken') return shot.lens === 'bare' ? shot : { ...shot, lens: eye };
  if (name !== 'camera-filters-exchanged' || shot.lens === 'bare') return shot;
  return { ...shot, lens: shot.lens === 'left' ? 'right' : 'left' };
}

function spoilScene(scene: Scene, fault: Fault): Scene {
  const { projector, strays = [] } = scene;
  if (fault.name === 'film-turned-over') return { ...scene, projector: { ...projector, filmTurnedOver: true } };
  if (fault.name === 'picture-missing') return { ...scene, brightness: { ...scene.brightness, [fault.eye]: 0 } };
  if (fault.name === 'stray-image') {
    // Mirrors of the two paths stand above each other, so the copy stands above or below its picture.
    const offset_ih = { x: 0.05 * fault.other, y: Math.sign(fault.other || 1) * (0.95 - 0.4 * Math.abs(fault.other)) };
    return { ...scene, strays: [...strays, { eye: fault.eye, offset_ih, strength: fault.size }] };
  }
  const misalignment = addTerms(projector.misalignment, termsOf(fault));
  return {
    ...scene,
    projector: { ...projector, misalignment },
    polarization: spoilPolarization(scene.polarization, fault),
  };
}

function spoilPolarization(polarization: Polarization, { name, eye, size, other }: Fault): Polarization {
  const { pictureError_deg, lensError_deg, pathDepolarization = { left: 0, right: 0 } } = polarization;
  switch (name) {
    case 'projector-polarizer-turned':
      return { ...polarization, pictureError_deg: { ...pictureError_deg, [eye]: pictureError_deg[eye] + size } };
    case 'both-polarizers-turned':
      return {
        ...polarization,
        pictureError_deg: { left: pictureError_deg.left + size, right: pictureError_deg.right + size },
      };
    case 'glasses-lens-turned':
      return { ...polarization, lensError_deg: { ...lensError_deg, [eye]: lensError_deg[eye] + size } };
    case 'glasses-tilted':
      return { ...polarization, glassesTilt_deg: polarization.glassesTilt_deg + size };
    case 'one-path-depolarizes':
      return { ...polarization, pathDepolarization: { ...pathDepolarization, [eye]: size } };
    case 'screen-depolarizes':
      return { ...polarization, depolarization: 1 - (1 - polarization.depolarization) * (1 - size) };
    case 'screen-patch-depolarizes': {
      const patch = { centre_ih: { x: 0.7 * other, y: 0.2 * other }, radius_ih: 0.45, depolarization: size };
      return { ...polarization, patches: [...polarization.patches, patch] };
    }
    case 'port-glass-strained': {
      // Strain grows towards the clamped ends of the pane.
      const ends = [-1.4, 1.4].map((x) => ({ centre_ih: { x, y: 0 }, radius_ih: 1.6, depolarization: size }));
      return { ...polarization, patches: [...polarization.patches, ...ends] };
    }
    case 'polarizers-missing':
    case 'polarization-kinds-mixed':
      return { ...polarization, fitted: false };
    case 'polarizers-exchanged':
    case 'half-frame-threading':
      return { ...polarization, exchanged: !polarization.exchanged };
    default:
      return polarization;
  }
}

function termsOf({ name, size, other }: Fault): Partial<SceneTerms> {
  switch (name) {
    case 'half-frame-threading':
      return { verticalOffset: size };
    case 'path-lengths-differ':
    case 'lens-elements-differ':
      return { size };
    case 'mirror-not-flat':
      // A mirror at 45 degrees that is curved magnifies one way about twice as much as the other.
      return { size, stretch: size / 2, shear: 0.1 * other * size };
    case 'mirror-strained':
      return { stretch: size, shear: other * size };
    case 'attachment-off-axis':
      return { keystoneH: size, keystoneV: other * size };
    default:
      return {};
  }
}

function addTerms(terms: SceneTerms, more: Partial<SceneTerms>): SceneTerms {
  const sum = Object.entries(terms).map(([term, value]) => [term, value + (more[term as keyof SceneTerms] ?? 0)]);
  return Object.fromEntries(sum) as unknown as SceneTerms;
}
