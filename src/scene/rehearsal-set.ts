/**
 * A set to practise with: what is asked for is exactly so, everything else is drawn by the seed.
 *
 * Lengths come as a person says them, in percent of the picture height; the scene has them in picture heights.
 */
import type { Eye } from '../kernel/eye.ts';
import { invert, transfer } from '../kernel/homography.ts';
import { createRandom } from '../kernel/random.ts';
import { UnmetRequest } from '../kernel/unmet-request.ts';
import { type Camera, imageCentre, photoFromScreen } from './camera.ts';
import { drawFault, type FilmOfScene, halfFrameOffset, plantFault } from './faults.ts';
import type { Film } from './film-motion.ts';
import { lensErrorForLeak_deg, type Polarization } from './polarization.ts';
import { type Difficulty, drawSet, type PhotoSize } from './random-scene.ts';
import { bendScene, type RehearsalConditions, takeWith } from './rehearsal-conditions.ts';
import { MERIDIAN, type SceneSet, type Shot } from './scene.ts';
import { NO_MISALIGNMENT, type SceneTerms } from './terms.ts';
import type { FaultName } from './fault-names.ts';

/** A number for one eye, the other, or both. */
interface EyeNumbers {
  readonly left?: number | undefined;
  readonly right?: number | undefined;
}

export interface RehearsalOptions extends RehearsalConditions {
  /** `drawn`: all faults by the seed; `aligned`: none but those asked for. */
  readonly start?: 'drawn' | 'aligned' | undefined;
  readonly vertical_pct?: number | undefined;
  readonly horizontal_pct?: number | undefined;
  readonly rotation_deg?: number | undefined;
  readonly size_pct?: number | undefined;
  readonly stretch_pct?: number | undefined;
  readonly shear_pct?: number | undefined;
  readonly keystoneH_pct?: number | undefined;
  readonly keystoneV_pct?: number | undefined;
  readonly polarizers?: 'fitted' | 'exchanged' | 'missing' | undefined;
  /** How far the polarizer of each eye's picture is turned from its place. */
  readonly polarizerError_deg?: EyeNumbers | undefined;
  /** What each lens of the glasses lets through of the wrong picture, percent of the right one. */
  readonly leak_pct?: EyeNumbers | undefined;
  /** Part of the light that the screen depolarizes; it leaks half of it through each lens. */
  readonly depolarization_pct?: number | undefined;
  /** Right-eye picture's light over the left-eye picture's. */
  readonly balance?: number | undefined;
  /** Faults with a cause that a technician looks for; their sizes are drawn. */
  readonly faults?: readonly FaultName[] | undefined;
  readonly difficulties?: readonly Difficulty[] | undefined;
  readonly blur_px?: number | undefined;
  /** Length of a camera shake during each exposure. */
  readonly shake_px?: number | undefined;
  /** How far the photograph moves sideways between the two shots because the camera was touched. */
  readonly cameraMove_px?: number | undefined;
  /** Standard deviation of the film's place in the gate from shot to shot. */
  readonly weave_pct?: number | undefined;
  readonly photo?: PhotoSize | undefined;
  readonly jpegQuality?: number | undefined;
}

/** The facts of a house that a scene is built on. */
export interface RehearsalHouse {
  readonly aspect: number;
  readonly pictureWidth_m: number;
  readonly throw_m: number;
  /** From the screen to the camera. */
  readonly cameraDistance_m: number;
  /** 0.375 in between the pictures' centres where left out. */
  readonly film?: FilmOfScene;
}

/**
 * Throws RangeError for options that no scene can have: a leak below what the polarizers let through anyway, or one that
 * is asked for where there are none.
 */
export function setUpRehearsal(
  seed: number,
  options: RehearsalOptions = {},
  house: RehearsalHouse = MERIDIAN,
): SceneSet {
  const pictureHeight_m = house.pictureWidth_m / house.aspect;
  const set = drawSet(seed, {
    photo: options.photo,
    cameraDistance_ih: house.cameraDistance_m / pictureHeight_m,
    cameraAside_deg: options.cameraAside_deg,
    difficulties: options.difficulties,
    amend: (drawn) => ({
      ...drawn,
      aspect: house.aspect,
      pictureHeight_m,
      projector: {
        ...drawn.projector,
        throw_ih: house.throw_m / pictureHeight_m,
        misalignment: requestedMisalignment(options, drawn.projector.misalignment),
      },
      polarization: requestedPolarization(options, drawn.polarization),
      brightness: { left: 1, right: options.balance ?? (options.start === 'aligned' ? 1 : drawn.brightness.right) },
    }),
  });
  const shotOf = (lens: Eye) => takeWith(options, requestedShot(set, options, lens), seed);
  const requested: SceneSet = {
    ...set,
    scene: bendScene(set.scene, options, seed, filmOf(house)),
    shots: { left: shotOf('left'), right: shotOf('right') },
    jpegQuality: options.jpegQuality ?? set.jpegQuality,
    faults: listFaults(options, set.faults),
  };
  const random = createRandom(seed).fork(FAULTS_FORK);
  const halfFrame_ih = halfFrameOffset(house.film ?? { centreToCentre_in: 0.375 }, house.aspect);
  return (options.faults ?? []).reduce(
    (each, name) => plantFault(each, drawFault(name, random, halfFrame_ih)),
    requested,
  );
}

function filmOf({ film, aspect }: RehearsalHouse): Film {
  const { centreToCentre_in, pictureHeight_in, upperPortShows = 'right' } = film ?? { centreToCentre_in: 0.375 };
  const pictureHeight_mm = pictureHeight_in === undefined ? DEFAULT_PICTURE_WIDTH_MM / aspect : 25.4 * pictureHeight_in;
  return { pictureHeight_mm, centreToCentre_mm: 25.4 * centreToCentre_in, upperPortShows };
}

/** ISO 2907. */
const DEFAULT_PICTURE_WIDTH_MM = 20.95;

/** The faults are drawn apart from everything else, which stays as it is without them. */
const FAULTS_FORK = 13;

function requestedMisalignment(options: RehearsalOptions, drawn: SceneTerms): SceneTerms {
  const start = options.start === 'aligned' ? NO_MISALIGNMENT : drawn;
  const fraction = (percent: number | undefined, otherwise: number) =>
    percent === undefined ? otherwise : percent / 100;
  return {
    verticalOffset: fraction(options.vertical_pct, start.verticalOffset),
    horizontalOffset: fraction(options.horizontal_pct, start.horizontalOffset),
    rotation: options.rotation_deg === undefined ? start.rotation : (options.rotation_deg * Math.PI) / 180,
    size: fraction(options.size_pct, start.size),
    stretch: fraction(options.stretch_pct, start.stretch),
    shear: fraction(options.shear_pct, start.shear),
    keystoneH: fraction(options.keystoneH_pct, start.keystoneH),
    keystoneV: fraction(options.keystoneV_pct, start.keystoneV),
  };
}

function requestedPolarization(options: RehearsalOptions, drawn: Polarization): Polarization {
  const { polarizers, polarizerError_deg, leak_pct, depolarization_pct } = options;
  if (polarizers === 'missing' && (leak_pct?.left ?? leak_pct?.right) !== undefined) {
    throw new UnmetRequest('no-leak-without-polarizers');
  }
  const start = {
    ...drawn,
    lensError_deg: options.start === 'aligned' ? { left: 0, right: 0 } : drawn.lensError_deg,
    depolarization: depolarization_pct === undefined ? drawn.depolarization : depolarization_pct / 100,
  };
  const lensError = (lens: Eye) => {
    const leak = leak_pct?.[lens];
    return leak === undefined ? start.lensError_deg[lens] : lensErrorForLeak_deg(start, leak / 100);
  };
  return {
    ...start,
    fitted: polarizers !== 'missing',
    exchanged: polarizers === 'exchanged',
    pictureError_deg: { left: polarizerError_deg?.left ?? 0, right: polarizerError_deg?.right ?? 0 },
    lensError_deg: { left: lensError('left'), right: lensError('right') },
  };
}

function requestedShot(set: SceneSet, options: RehearsalOptions, lens: Eye): Shot {
  const shot = set.shots[lens];
  const random = createRandom(set.seed).fork(lens === 'left' ? 11 : 12);
  const moved = lens === 'right' ? (options.cameraMove_px ?? 0) : 0;
  const weave_ih = (options.weave_pct ?? 0) / 100;
  return {
    ...shot,
    camera: moved === 0 ? shot.camera : turnCamera(shot.camera, moved),
    defocus_px: options.blur_px ?? shot.defocus_px,
    motion: { length_px: options.shake_px ?? 0, angle_deg: random.between(0, 180) },
    weave_ih: weave_ih === 0 ? { x: 0, y: 0 } : { x: weave_ih * random.normal(), y: weave_ih * random.normal() },
  };
}

/** Turns the camera so that what stood in the middle of the photograph stands `moved_px` to the right of it. */
function turnCamera(camera: Camera, moved_px: number): Camera {
  const centre = imageCentre(camera);
  const lookAt_ih = transfer(invert(photoFromScreen(camera)), { x: centre.x - moved_px, y: centre.y });
  return { ...camera, lookAt_ih };
}

function listFaults(options: RehearsalOptions, difficulties: readonly string[]): string[] {
  const named = (name: string, ...values: readonly (number | undefined)[]) => (values.some((v) => v) ? [name] : []);
  return [
    ...(options.start === 'aligned' ? [] : ['drawn misalignment']),
    ...named('vertical offset', options.vertical_pct),
    ...named('horizontal offset', options.horizontal_pct),
    ...named('rotation', options.rotation_deg),
    ...named('size', options.size_pct),
    ...named('stretch or shear', options.stretch_pct, options.shear_pct),
    ...named('keystone', options.keystoneH_pct, options.keystoneV_pct),
    ...(options.polarizers === 'exchanged' ? ['polarizers exchanged'] : []),
    ...(options.polarizers === 'missing' ? ['no polarizers'] : []),
    ...named('polarizer turned', options.polarizerError_deg?.left, options.polarizerError_deg?.right),
    ...named('leak', options.leak_pct?.left, options.leak_pct?.right),
    ...named('screen depolarizes', options.depolarization_pct),
    ...named('unequal light', options.balance !== undefined && options.balance !== 1 ? 1 : 0),
    ...named('blur', options.blur_px),
    ...named('camera shake', options.shake_px),
    ...named('camera moved', options.cameraMove_px),
    ...named('film weave', options.weave_pct),
    ...named('film motion', options.filmMotion_um),
    ...named('curved screen', options.curve_widths),
    ...named('projection lens', options.distortion_pct),
    ...named('wedge of the glasses', options.wedge_px),
    ...named('wavy glasses', options.wavy_px),
    ...named('print errors', options.printErrors_pct),
    ...named('uneven focus', options.soft_pct?.left, options.soft_pct?.right),
    ...named('grain', options.grain_pct),
    ...named('bands', options.bands_pct),
    ...(options.texture ?? []).map((kind) => `${kind} screen`),
    ...(options.lens === undefined || options.lens === 'radial' ? [] : [`${options.lens} lens`]),
    ...(options.camera === undefined || options.camera === 'plain' ? [] : [`${options.camera} camera`]),
    ...difficulties,
  ];
}
