/** The sets of photographs in test-images/, and how each is set up. */
import { fileURLToPath } from 'node:url';
import { type SeriesPhotograph, withPairOf } from '../../src/scene/photograph-series.ts';
import { planRehearsalSeries } from '../../src/scene/rehearsal-conditions.ts';
import { type RehearsalOptions, setUpRehearsal } from '../../src/scene/rehearsal-set.ts';
import type { SceneSet } from '../../src/scene/scene.ts';

export const TEST_IMAGES = fileURLToPath(new URL('../../test-images', import.meta.url));
const SIX_MEGAPIXELS = { width_px: 3000, height_px: 2000 };
const QUALITY = 85;
/** As film usually stands in a gate, and a quarter of a second for each photograph. */
export const FILM_UM = 5;

export interface ImageSet {
  readonly name: string;
  /** What is wrong, for people. */
  readonly fault: string;
  readonly options: RehearsalOptions;
  /** A pair through the glasses alone: what is wrong is looked for through them. */
  readonly glassesOnly?: true;
}

/** A good house leaks a little. */
const goodGlasses = { leak_pct: { left: 0.4, right: 0.5 } };
const aligned = { start: 'aligned', ...goodGlasses } as const;

export const IMAGE_SETS: readonly ImageSet[] = [
  {
    name: 'aligned',
    fault: 'nothing: a projector that was left well',
    options: { ...aligned, vertical_pct: 0.01, horizontal_pct: -0.015 },
  },
  { name: 'vertical', fault: 'the right-eye picture is too high', options: { ...aligned, vertical_pct: 0.55 } },
  {
    name: 'horizontal',
    fault: 'the right-eye picture lies too far left',
    options: { ...aligned, horizontal_pct: -0.9 },
  },
  { name: 'roll', fault: 'the right-eye picture is turned clockwise', options: { ...aligned, rotation_deg: -0.32 } },
  { name: 'size', fault: 'the right-eye picture is larger', options: { ...aligned, size_pct: 0.7 } },
  {
    name: 'keystone',
    fault: 'the right-eye picture grows to its right and to its foot',
    options: { ...aligned, keystoneH_pct: 0.35, keystoneV_pct: -0.2 },
  },
  {
    name: 'swapped',
    glassesOnly: true,
    fault: 'each eye gets the other one’s picture',
    options: { ...aligned, vertical_pct: -0.2, polarizers: 'exchanged' },
  },
  {
    name: 'rotated-polarizer',
    glassesOnly: true,
    fault: 'the right-eye picture’s polarizer is turned by 12 degrees',
    options: { start: 'aligned', polarizerError_deg: { right: 12 } },
  },
  {
    name: 'ghost',
    glassesOnly: true,
    fault: 'both lenses leak: the screen depolarizes',
    options: { start: 'aligned', vertical_pct: 0.06, depolarization_pct: 13 },
  },
  {
    name: 'no-polarizers',
    glassesOnly: true,
    fault: 'no polarizers: both pictures in both photographs',
    options: { start: 'aligned', vertical_pct: 0.3, polarizers: 'missing' },
  },
  {
    name: 'mixed',
    fault: 'everything a little: offset, roll, size, leak, unequal light',
    options: {
      start: 'aligned',
      vertical_pct: -0.47,
      horizontal_pct: 0.38,
      rotation_deg: 0.21,
      size_pct: -0.4,
      stretch_pct: 0.08,
      shear_pct: -0.05,
      keystoneV_pct: 0.1,
      leak_pct: { left: 2.2, right: 0.9 },
      balance: 0.85,
    },
  },
  {
    name: 'obstructed',
    fault: 'vertical offset; heads in front and a corner cut off',
    options: { ...aligned, vertical_pct: 0.35, rotation_deg: 0.1, difficulties: ['heads', 'cut corner'] },
  },
  {
    name: 'dim-noisy',
    fault: 'vertical offset; too little light and a noisy camera',
    options: { ...aligned, vertical_pct: -0.3, size_pct: 0.2, difficulties: ['dim', 'noise'] },
  },
];

/** `meridian-02-vertical` */
export function folderName(set: ImageSet): string {
  return `meridian-${String(IMAGE_SETS.indexOf(set) + 1).padStart(2, '0')}-${set.name}`;
}

export interface PlannedImages {
  /** With the pair as the film stands in it. */
  readonly set: SceneSet;
  readonly series: readonly SeriesPhotograph[];
}

export function planImages(images: ImageSet): PlannedImages {
  const seed = 101 + IMAGE_SETS.indexOf(images);
  const options = {
    ...images.options,
    photo: SIX_MEGAPIXELS,
    jpegQuality: QUALITY,
    filmMotion_um: FILM_UM,
    bareCount: images.glassesOnly ? 0 : 1,
  };
  const still = setUpRehearsal(seed, options);
  const series = planRehearsalSeries(still, options)!;
  return { set: withPairOf(still, series), series };
}
