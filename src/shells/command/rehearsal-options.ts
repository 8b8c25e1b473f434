/**
 * The options of `rehearse` that wish for something. Kept apart from the scene, so that `--help` does not load it.
 * What is not wished for is drawn by the seed.
 */
import type { RehearsalOptions } from '../../scene/rehearsal-set.ts';
import { requireRange, wrongUsage } from './exit-status.ts';
import { FAULTS, type FaultName } from '../../scene/fault-names.ts';

export interface RehearsalOption {
  readonly flags: string;
  readonly value: 'none' | 'decimal' | 'whole' | readonly string[];
}

export const DIFFICULTY_WORDS = ['blur', 'dim', 'noise', 'heads', 'corner', 'oblique'] as const;
export type DifficultyWord = (typeof DIFFICULTY_WORDS)[number];

/** Photographs beside the pair. */
export const FURTHER_WORDS = ['bare', 'closing', 'flat', 'open-gate', 'ports', 'null-series'] as const;
export type FurtherWord = (typeof FURTHER_WORDS)[number];

/** Photographs in the order of time. */
export const SERIES_WORDS = ['left', 'right', 'bare'] as const;
export const CAMERA_WORDS = ['plain', 'sharpened', 'phone'] as const;
export const LENS_WORDS = ['radial', 'decentred', 'moustache'] as const;
export const TEXTURE_WORDS = ['perforated', 'seamed'] as const;

export const REHEARSAL_OPTIONS: readonly RehearsalOption[] = [
  { flags: '--aligned', value: 'none' },
  { flags: '--vertical <percent>', value: 'decimal' },
  { flags: '--horizontal <percent>', value: 'decimal' },
  { flags: '--rotation <degrees>', value: 'decimal' },
  { flags: '--size <percent>', value: 'decimal' },
  { flags: '--stretch <percent>', value: 'decimal' },
  { flags: '--shear <percent>', value: 'decimal' },
  { flags: '--keystone-h <percent>', value: 'decimal' },
  { flags: '--keystone-v <percent>', value: 'decimal' },
  { flags: '--polarizers <state>', value: ['fitted', 'exchanged', 'missing'] },
  { flags: '--polarizer-left <degrees>', value: 'decimal' },
  { flags: '--polarizer-right <degrees>', value: 'decimal' },
  { flags: '--leak-left <percent>', value: 'decimal' },
  { flags: '--leak-right <percent>', value: 'decimal' },
  { flags: '--depolarization <percent>', value: 'decimal' },
  { flags: '--balance <ratio>', value: 'decimal' },
  { flags: '--fault <cause...>', value: FAULTS },
  { flags: '--with <what...>', value: DIFFICULTY_WORDS },
  { flags: '--blur <px>', value: 'decimal' },
  { flags: '--shake <px>', value: 'decimal' },
  { flags: '--camera-move <px>', value: 'decimal' },
  { flags: '--weave <percent>', value: 'decimal' },
  { flags: '--bare <count>', value: 'whole' },
  { flags: '--order <roles...>', value: SERIES_WORDS },
  { flags: '--film-motion <um>', value: 'decimal' },
  { flags: '--still', value: 'none' },
  { flags: '--exposure-frames <number>', value: 'whole' },
  { flags: '--camera-aside <degrees>', value: 'decimal' },
  { flags: '--curve <widths>', value: 'decimal' },
  { flags: '--distortion <percent>', value: 'decimal' },
  { flags: '--wedge <px>', value: 'decimal' },
  { flags: '--wavy <px>', value: 'decimal' },
  { flags: '--print-errors <percent>', value: 'decimal' },
  { flags: '--camera <kind>', value: CAMERA_WORDS },
  { flags: '--lens <kind>', value: LENS_WORDS },
  { flags: '--texture <kind...>', value: TEXTURE_WORDS },
  { flags: '--grain <percent>', value: 'decimal' },
  { flags: '--bands <percent>', value: 'decimal' },
  { flags: '--soft-left <percent>', value: 'decimal' },
  { flags: '--soft-right <percent>', value: 'decimal' },
  { flags: '--width <px>', value: 'whole' },
  { flags: '--quality <number>', value: 'whole' },
];

/** The options as the argument parser gives them back. */
export interface GivenRehearsalOptions {
  readonly aligned?: boolean;
  readonly vertical?: number;
  readonly horizontal?: number;
  readonly rotation?: number;
  readonly size?: number;
  readonly stretch?: number;
  readonly shear?: number;
  readonly keystoneH?: number;
  readonly keystoneV?: number;
  readonly polarizers?: 'fitted' | 'exchanged' | 'missing';
  readonly polarizerLeft?: number;
  readonly polarizerRight?: number;
  readonly leakLeft?: number;
  readonly leakRight?: number;
  readonly depolarization?: number;
  readonly balance?: number;
  readonly fault?: readonly FaultName[];
  readonly with?: readonly DifficultyWord[];
  readonly blur?: number;
  readonly shake?: number;
  readonly cameraMove?: number;
  readonly weave?: number;
  readonly bare?: number;
  readonly order?: readonly (typeof SERIES_WORDS)[number][];
  readonly filmMotion?: number;
  readonly still?: boolean;
  readonly exposureFrames?: number;
  readonly cameraAside?: number;
  readonly curve?: number;
  readonly distortion?: number;
  readonly wedge?: number;
  readonly wavy?: number;
  readonly printErrors?: number;
  readonly camera?: (typeof CAMERA_WORDS)[number];
  readonly lens?: (typeof LENS_WORDS)[number];
  readonly texture?: readonly (typeof TEXTURE_WORDS)[number][];
  readonly grain?: number;
  readonly bands?: number;
  readonly softLeft?: number;
  readonly softRight?: number;
  readonly width?: number;
  readonly quality?: number;
}

/** As in a house whose film runs, photographed as the manual recommends. */
const USUAL = { filmMotion_um: 5, bareCount: 1 } as const;
const WIDTH_RANGE_PX = { min: 640, max: 9000 } as const;

/** Throws UsageError for a number that no rehearsal can have, and for film that moves and stands still. */
export function wishOf(given: GivenRehearsalOptions): RehearsalOptions {
  if (given.still && given.filmMotion) throw wrongUsage('still-or-moving');
  requireRange('--width', given.width, WIDTH_RANGE_PX.min, WIDTH_RANGE_PX.max);
  requireRange('--quality', given.quality, 1, 100);
  requireRange('--balance', given.balance, 0.05, 20);
  requireRange('--depolarization', given.depolarization, 0, 100);
  requireRange('--blur', given.blur, 0, 20);
  requireRange('--shake', given.shake, 0, 100);
  requireRange('--weave', given.weave, 0, 10);
  requireRange('--bare', given.bare, 0, 100);
  requireRange('--film-motion', given.filmMotion, 0, 200);
  requireRange('--exposure-frames', given.exposureFrames, 0, 240);
  requireRange('--camera-aside', given.cameraAside, -40, 40);
  requireRange('--curve', given.curve, 0.8, 1000);
  requireRange('--distortion', given.distortion, -5, 5);
  requireRange('--wedge', given.wedge, 0, 100);
  requireRange('--wavy', given.wavy, 0, 10);
  requireRange('--print-errors', given.printErrors, 0, 1);
  requireRange('--grain', given.grain, 0, 50);
  requireRange('--bands', given.bands, 0, 100);
  requireRange('--soft-left', given.softLeft, 0, 2);
  requireRange('--soft-right', given.softRight, 0, 2);
  requireRange('--rotation', given.rotation, -10, 10);
  const percents = ['vertical', 'horizontal', 'size', 'stretch', 'shear', 'keystoneH', 'keystoneV'] as const;
  for (const name of percents)
    requireRange(`--${name.replace(/[HV]$/, (c) => `-${c.toLowerCase()}`)}`, given[name], -20, 20);
  return {
    start: given.aligned ? 'aligned' : undefined,
    vertical_pct: given.vertical,
    horizontal_pct: given.horizontal,
    rotation_deg: given.rotation,
    size_pct: given.size,
    stretch_pct: given.stretch,
    shear_pct: given.shear,
    keystoneH_pct: given.keystoneH,
    keystoneV_pct: given.keystoneV,
    polarizers: given.polarizers,
    polarizerError_deg: { left: given.polarizerLeft, right: given.polarizerRight },
    leak_pct: { left: given.leakLeft, right: given.leakRight },
    depolarization_pct: given.depolarization,
    balance: given.balance,
    faults: given.fault,
    difficulties: given.with?.map((word) => (word === 'corner' ? 'cut corner' : word)),
    blur_px: given.blur,
    shake_px: given.shake,
    cameraMove_px: given.cameraMove,
    weave_pct: given.weave,
    bareCount: given.bare ?? USUAL.bareCount,
    order: given.order,
    filmMotion_um: given.still ? 0 : (given.filmMotion ?? USUAL.filmMotion_um),
    framesPerExposure: given.exposureFrames,
    cameraAside_deg: given.cameraAside,
    curve_widths: given.curve,
    distortion_pct: given.distortion,
    wedge_px: given.wedge,
    wavy_px: given.wavy,
    printErrors_pct: given.printErrors,
    camera: given.camera,
    lens: given.lens,
    texture: given.texture,
    grain_pct: given.grain,
    bands_pct: given.bands,
    soft_pct: { left: given.softLeft, right: given.softRight },
    photo: given.width === undefined ? undefined : { width_px: given.width, height_px: Math.round(given.width * 0.75) },
    jpegQuality: given.quality,
  };
}
