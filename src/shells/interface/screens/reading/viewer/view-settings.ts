/** How the photographs are shown: which, how bright, and what is drawn over them. */
import { chooseExaggeration, EXAGGERATIONS } from '../layers/round-lengths.ts';
import { longestDisplacement } from '../layers/displacement.ts';
import type { MeasuredReading } from '../../../../../record/reading.ts';

export const MODES = ['both', 'left', 'right', 'blink', 'wipe'] as const;
export type Mode = (typeof MODES)[number];

export const LAYERS = ['arrows', 'marks', 'map', 'worst', 'strays'] as const;
export type Layer = (typeof LAYERS)[number];

export interface ViewSettings {
  readonly mode: Mode;
  /** Changes of picture per second while blinking. */
  readonly pace_hz: number;
  /** Brightness in steps of twice the light, from the one at which the photographs are just not burnt out. */
  readonly stops: number;
  readonly layers: Readonly<Record<Layer, boolean>>;
  /** Indices into `EXAGGERATIONS`. */
  readonly arrowFactor: number;
  readonly residualFactor: number;
  /** Share of the stage left of the divider. */
  readonly wipe: number;
  /** Which photograph a blinking stage shows now. */
  readonly blinkShows: 'left' | 'right';
}

export const PACE_HZ = { least: 0.5, most: 4, step: 0.5 } as const;
export const STOPS = { least: -2, most: 5, step: 0.5 } as const;

/** Room of the longest arrow, in picture heights, so that arrows of neighbouring points do not run into each other. */
const ARROW_ROOM_IH = 0.14;
/** Room of a residual, photo px as a part of the picture height. */
const RESIDUAL_ROOM_IH = 0.05;

export function chooseSettings(reading: MeasuredReading, pixelsPerPercent: number): ViewSettings {
  const largest_px = reading.evidence.marks
    .filter(({ used }) => used)
    .reduce((most, { residual_px: [x, y] }) => Math.max(most, Math.hypot(x, y)), 0);
  return {
    mode: 'both',
    pace_hz: 1,
    stops: 0,
    layers: { arrows: true, marks: false, map: false, worst: true, strays: true },
    arrowFactor: chooseExaggeration(longestDisplacement(reading.evidence.field), 100 * ARROW_ROOM_IH),
    residualFactor: chooseExaggeration(largest_px, 100 * RESIDUAL_ROOM_IH * pixelsPerPercent),
    wipe: 0.5,
    blinkShows: 'left',
  };
}

export const factorAt = (index: number): number => EXAGGERATIONS[index]!;
