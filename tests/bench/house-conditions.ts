/**
 * Houses as they are: what moves, bends, misprints and processes in them, each as a condition that is put on a drawn house.
 *
 * `first` conditions are the rows of the first tables that were measured on houses that stood still but for one thing;
 * `real` conditions are what the intervals have to hold in: on film that moves, through glasses that bend and, where `u` is
 * judged, from prints that err as a reading assumes of houses of which it knows nothing (draw-house.ts).
 *
 * Pixels of glasses are those of a photograph of six megapixels, so that a condition is the same in every size.
 */
import type { Eye } from '../../src/kernel/eye.ts';
import type { RandomSource } from '../../src/kernel/random.ts';
import type { Processing } from '../../src/scene/develop-photograph.ts';
import type { Point } from '../../src/kernel/point.ts';
import { motionOf } from '../../src/scene/rehearsal-conditions.ts';
import { type FilmMotion, DEFAULT_FILM } from '../../src/scene/film-motion.ts';
import type { PhotoSize } from '../../src/scene/random-scene.ts';
import type { PrintErrors } from '../../src/scene/print-errors.ts';
import type { Scene, Shot } from '../../src/scene/scene.ts';

export interface HouseChange {
  readonly scene?: (scene: Scene) => Scene;
  readonly shot?: (shot: Shot, lens: Eye) => Shot;
  /** The camera stands so far aside. */
  readonly aside_deg?: number;
  /** Brightest light of the photographs, full scale 1. */
  readonly peak?: number;
  readonly jpegQuality?: number;
  readonly motion?: FilmMotion;
  readonly framesPerExposure?: number;
}

export interface HouseCondition {
  readonly name: string;
  readonly group: 'first' | 'real';
  readonly draw: (random: RandomSource, photo: PhotoSize) => HouseChange;
}

/** Percent of the picture height, on the film in mm. */
const onFilm = (percent: number) => (percent / 100) * DEFAULT_FILM.pictureHeight_mm;
const grows = (random: RandomSource, low: number, high: number) => low * (high / low) ** random.uniform();
const sign = (random: RandomSource) => (random.uniform() < 0.5 ? -1 : 1);

/** What the lenses of the glasses let through of the wrong picture, both alike. */
const ghost =
  (percent: number) =>
  (scene: Scene): Scene => ({
    ...scene,
    polarization: {
      ...scene.polarization,
      lensError_deg: { left: 0, right: 0 },
      depolarization: 0,
      crossedTransmittance: (scene.polarization.parallelTransmittance * percent) / 100,
    },
  });
const moving = (percent: number, frames: number): Pick<HouseChange, 'motion' | 'framesPerExposure'> => ({
  motion: { jump_mm: onFilm(percent), weave_mm: onFilm(percent) },
  framesPerExposure: frames,
});
/** Two photographs that show the film apart by this, in each direction. */
const apart = (percent: number) => moving(percent / Math.SQRT2, 0);
/** Width of 4 : 3 photographs with six megapixels. */
const SIX_MEGAPIXELS_WIDE = 2828;
const inSize = (pixels: number, photo: PhotoSize) => (pixels * photo.width_px) / SIX_MEGAPIXELS_WIDE;
const wedge = (random: RandomSource, photo: PhotoSize, sixMegapixels_px: number, turn_deg = 0) => {
  const pixels = inSize(sixMegapixels_px, photo);
  const lens = () => {
    const angle = random.between(0, 2 * Math.PI);
    const shift_px = { x: (pixels / 2) * Math.cos(angle), y: (pixels / 2) * Math.sin(angle) };
    return { shift_px, turn_deg: turn_deg * random.normal() };
  };
  const left = lens();
  // Against each other by as much as is asked for.
  const right = { ...lens(), shift_px: { x: -left.shift_px.x, y: -left.shift_px.y } };
  return (scene: Scene): Scene => ({ ...scene, glasses: { left, right } });
};
const wavy = (random: RandomSource, sixMegapixels_px: number, photo: PhotoSize) => {
  const sigma_px = inSize(sixMegapixels_px, photo);
  const lens = () => ({
    shift_px: { x: 0, y: 0 },
    wave: { seed: Math.floor(1e6 * random.uniform()), sigma_px, length_px: 0.15 * photo.width_px },
  });
  const glasses = { left: lens(), right: lens() };
  return (scene: Scene): Scene => ({ ...scene, glasses });
};
/** What a reading assumes of film of which it knows nothing; the film turns with it (budget-priors.ts). */
export const PRIOR_MOTION: FilmMotion = motionOf(5)!;
/** Smooth errors in percent of the height. */
const print = (random: RandomSource, smooth_pct: number, eyeAgainstEye_ih: Point) => {
  const errors: PrintErrors = {
    seed: Math.floor(1e6 * random.uniform()),
    mark_ih: 0,
    smooth_ih: smooth_pct / 100,
    smoothLength_ih: 0.3,
    eyeAgainstEye_ih,
  };
  return (scene: Scene): Scene => ({ ...scene, print: errors });
};
const curved =
  (widths: number) =>
  (scene: Scene): Scene => ({ ...scene, screenRadius_ih: widths * scene.aspect });
const pincushion =
  (left: number, right = left) =>
  (scene: Scene): Scene => ({
    ...scene,
    projectionLens: { distortion_pct: { left, right } },
  });
const processed =
  (processing: Processing) =>
  (shot: Shot): Shot => ({ ...shot, processing });
const all =
  (...changes: readonly ((scene: Scene) => Scene)[]) =>
  (scene: Scene): Scene =>
    changes.reduce((changed, change) => change(changed), scene);
const PHONE: Processing = {
  mosaic: true,
  denoise: { threshold: 0.02 },
  contrast: 0.25,
  localTones: { amount: 0.15, radius_px: 60 },
  sharpen: { amount: 0.5, radius_px: 1.5 },
};

const first = (name: string, draw: HouseCondition['draw']): HouseCondition => ({ name, group: 'first', draw });
const real = (name: string, draw: HouseCondition['draw']): HouseCondition => ({ name, group: 'real', draw });

export const HOUSE_CONDITIONS: readonly HouseCondition[] = [
  first('nothing moves, ghost 0.05 %', () => ({ scene: ghost(0.05) })),
  first('film apart by 0.02 %, ghost 0.05 %', () => ({ scene: ghost(0.05), ...apart(0.02) })),
  first('film apart by 0.1 %, ghost 0.05 %', () => ({ scene: ghost(0.05), ...apart(0.1) })),
  first('film apart by 0.02 %, ghost 0.5 %', () => ({ scene: ghost(0.5), ...apart(0.02) })),
  first('film apart by 0.05 %, ghost 0.5 %', () => ({ scene: ghost(0.5), ...apart(0.05) })),
  first('film apart by 0.1 %, ghost 0.5 %', () => ({ scene: ghost(0.5), ...apart(0.1) })),
  first('film apart by 0.1 %, ghost 3 %', () => ({ scene: ghost(3), ...apart(0.1) })),
  first('wedge of 1 px, ghost 0.05 %', (random, photo) => ({ scene: all(ghost(0.05), wedge(random, photo, 1)) })),
  first('wedge of 1 px, ghost 0.5 %', (random, photo) => ({ scene: all(ghost(0.5), wedge(random, photo, 1)) })),
  first('film turned by 0.01 degrees, ghost 0.05 %', () => ({
    scene: ghost(0.05),
    motion: { turn_deg: 0.01 / Math.SQRT2 },
    framesPerExposure: 0,
  })),
  first('screen of 2 widths radius, straight on', () => ({ scene: all(ghost(0.5), curved(2)) })),
  first('screen of 2 widths radius, 15 degrees aside', () => ({ scene: all(ghost(0.5), curved(2)), aside_deg: 15 })),
  first('pincushion of 0.1 %', () => ({ scene: all(ghost(0.5), pincushion(0.1)) })),
  first('pincushion of 0.5 %', () => ({ scene: all(ghost(0.5), pincushion(0.5)) })),
  first('filter wavy by 0.05 px', (random, photo) => ({ scene: all(ghost(0.5), wavy(random, 0.05, photo)) })),
  first('filter wavy by 0.2 px', (random, photo) => ({ scene: all(ghost(0.5), wavy(random, 0.2, photo)) })),
  first('six frames averaged, 0.03 % per frame, ghost 0.5 %', () => ({ scene: ghost(0.5), ...moving(0.03, 6) })),
  first('six frames averaged, 0.1 % per frame, ghost 0.05 %', () => ({ scene: ghost(0.05), ...moving(0.1, 6) })),
  first('smooth print errors of 0.005 %', (random) => ({
    scene: all(ghost(0.5), print(random, 0.005, { x: 0, y: 0 })),
  })),
  first('right picture printed 0.02 % off', (random) => ({
    scene: all(ghost(0.5), print(random, 0, { x: 0, y: 2e-4 })),
  })),
  first('unsharp mask of 2 px', () => ({
    scene: ghost(0.5),
    shot: processed({ sharpen: { amount: 0.8, radius_px: 2 } }),
  })),
  first('whites clipped by 10 %', () => ({ scene: ghost(0.5), peak: 1.1 })),

  real('as the priors say', (random) => ({ scene: ghost(grows(random, 0.05, 3)) })),
  real('film of 0.02 % rms', (random) => ({ scene: ghost(grows(random, 0.05, 3)), ...moving(0.02, 0) })),
  real('film of 0.1 % rms', (random) => ({ scene: ghost(grows(random, 0.05, 3)), ...moving(0.1, 0) })),
  real('film of 0.2 % rms', (random) => ({ scene: ghost(grows(random, 0.05, 3)), ...moving(0.2, 0) })),
  real('six frames averaged', (random) => ({
    scene: ghost(grows(random, 0.05, 3)),
    motion: { ...PRIOR_MOTION, shutterWipe_frames: 0.04 },
    framesPerExposure: 6,
  })),
  real('glasses with wedge and turn', (random, photo) => ({
    scene: all(ghost(grows(random, 0.05, 3)), wedge(random, photo, grows(random, 1, 10), 0.01)),
  })),
  real('glasses with a wavy surface', (random, photo) => ({
    scene: all(ghost(grows(random, 0.05, 3)), wavy(random, grows(random, 0.05, 0.2), photo)),
  })),
  real('curved screen, from aside', (random) => ({
    scene: curved(random.between(1, 4)),
    aside_deg: 20 * (2 * random.uniform() - 1),
  })),
  real('projection lens', (random) => {
    const bends = sign(random) * grows(random, 0.02, 1);
    return { scene: pincushion(bends, bends * random.between(0.8, 1.2)) };
  }),
  real('mirrors not flat', (random) => {
    const figure = () =>
      Array.from({ length: 7 }, () => 1e-4 * random.normal()) as unknown as [
        number,
        number,
        number,
        number,
        number,
        number,
        number,
      ];
    const mirrors = { left: figure(), right: figure() };
    return { scene: (scene) => ({ ...scene, mirrors }) };
  }),
  real('sharpened, steeper, quality 75', () => ({
    shot: processed({ contrast: 0.3, sharpen: { amount: 0.8, radius_px: 2 } }),
    jpegQuality: 75,
  })),
  real('whites clipped', (random) => ({ peak: random.between(1, 1.1) })),
  real('phone', (random) => ({
    shot: processed({ ...PHONE, lateralColour: { red: 3e-4 * random.normal(), blue: 3e-4 * random.normal() } }),
    jpegQuality: 75,
  })),
  real('screen with holes and seams, grain, bands', (random, photo) => ({
    scene: (scene) => ({
      ...scene,
      grain: 0.05,
      surface: {
        ...scene.surface,
        texture: {
          holes: { part: 0.045, pitch_ih: 0.0011 },
          seams: { apart_ih: 0.27, width_ih: 0.0006, depth: 0.15 },
        },
      },
    }),
    shot: (shot) => ({
      ...shot,
      bands: { depth: 0.08, period_px: photo.height_px / 5, phase: random.uniform() },
    }),
  })),
  real('camera lens off centre, with a moustache', (random, photo) => {
    const offset = { x: 0.02 * photo.width_px * random.normal(), y: 0.02 * photo.width_px * random.normal() };
    const distortion = {
      k1: -0.03 * random.uniform(),
      k2: 0.02 * random.normal(),
      k3: 0.02 * random.uniform(),
      decentring: [3e-4 * random.normal(), 3e-4 * random.normal()] as const,
    };
    return {
      shot: (shot) => ({
        ...shot,
        camera: { ...shot.camera, distortion: { ...shot.camera.distortion, ...distortion, centreOffset_px: offset } },
      }),
    };
  }),
  real('unequal light, 1 : 4', (random) => {
    const dark = random.uniform() < 0.5 ? 'left' : 'right';
    return {
      scene: (scene) => ({ ...scene, brightness: { ...scene.brightness, [dark]: 0.25 } }),
      motion: PRIOR_MOTION,
      framesPerExposure: 6,
    };
  }),
  real('each picture with its own focus and distortion', (random) => ({
    scene: all(pincushion(0.2 * random.normal(), 0.2 * random.normal()), (scene) => ({
      ...scene,
      blur_ih: { left: random.between(0, 0.002), right: random.between(0, 0.002) },
    })),
  })),
  real('pictures 3 to 12 % apart', (random) => {
    const [far, angle] = [random.between(0.03, 0.12), random.between(0, 2 * Math.PI)];
    return {
      scene: (scene) => ({
        ...scene,
        projector: {
          ...scene.projector,
          misalignment: {
            ...scene.projector.misalignment,
            verticalOffset: far * Math.sin(angle),
            horizontalOffset: far * Math.cos(angle),
          },
        },
      }),
    };
  }),
  real('curved, bent glasses, film of 0.1 %', (random, photo) => ({
    scene: all(
      ghost(grows(random, 0.05, 3)),
      curved(random.between(1.5, 4)),
      wedge(random, photo, 3, 0.01),
      wavy(random, 0.05, photo),
    ),
    aside_deg: 15 * (2 * random.uniform() - 1),
    ...moving(0.1, 0),
  })),
  real('everything at once', (random, photo) => ({
    scene: all(
      ghost(grows(random, 0.05, 3)),
      wedge(random, photo, 2, 0.005),
      curved(random.between(1.5, 4)),
      pincushion(sign(random) * grows(random, 0.02, 0.3)),
      (scene) => ({ ...scene, grain: 0.03 }),
    ),
    shot: processed({ mosaic: true, sharpen: { amount: 0.4, radius_px: 1.5 } }),
    aside_deg: 12 * (2 * random.uniform() - 1),
    jpegQuality: Math.round(random.between(80, 85)),
    motion: { ...PRIOR_MOTION, shutterWipe_frames: 0.04 },
    framesPerExposure: 6,
  })),
];
