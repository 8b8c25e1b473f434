/** How the photographs are shown: which, how bright, and what is drawn over them. */
import type { MeasuredReading } from '../../../../../record/reading.ts';
import { anchorArrows } from '../../../../../drawings/overlay-geometry.ts';
import type { Move } from '../layers/marks.ts';
import { chooseExaggeration, EXAGGERATIONS } from '../../../../../drawings/scale.ts';

export const MODES = ['both', 'left', 'right', 'blink', 'wipe'] as const;
export type Mode = (typeof MODES)[number];

const LAYERS = ['arrows', 'marks', 'map', 'worst', 'strays'] as const;
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

export const PACE_HZ = { min: 0.5, max: 4, step: 0.5 } as const;
export const STOPS = { min: -2, max: 5, step: 0.5 } as const;

/** Room of a residual, photo px as a part of the picture height. */
const RESIDUAL_ROOM_IH = 0.05;

export function chooseSettings(reading: MeasuredReading, pixelsPerPercent: number): ViewSettings {
  const largest_px = reading.evidence.marks
    .filter(({ used }) => used)
    .reduce((max, { residual_px: [x, y] }) => Math.max(max, Math.hypot(x, y)), 0);
  return {
    mode: 'both',
    pace_hz: 1,
    stops: 0,
    layers: { arrows: true, marks: false, map: false, worst: true, strays: true },
    arrowFactor: anchorArrows(reading),
    residualFactor: chooseExaggeration(largest_px, 100 * RESIDUAL_ROOM_IH * pixelsPerPercent),
    wipe: 0.5,
    blinkShows: 'left',
  };
}

export const factorAt = (index: number): number => EXAGGERATIONS[index]!;

/** What the keys do while the stage has the focus. */

type StageAction =
  | { readonly type: 'zoom'; readonly factor: number }
  | { readonly type: 'pan'; readonly dx: number; readonly dy: number }
  | { readonly type: 'mark'; readonly move: Move }
  | { readonly type: 'fit' | 'actual-size' | 'exchange' | 'choose' | 'leave' };

interface StageKey {
  readonly key: string;
  readonly altKey: boolean;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
}

const STEP = 1.25;
const PAN_PX = 60;

const ACTIONS: Readonly<Record<string, StageAction>> = {
  '+': { type: 'zoom', factor: STEP },
  '=': { type: 'zoom', factor: STEP },
  '-': { type: 'zoom', factor: 1 / STEP },
  '0': { type: 'fit' },
  '1': { type: 'actual-size' },
  ArrowLeft: { type: 'pan', dx: PAN_PX, dy: 0 },
  ArrowRight: { type: 'pan', dx: -PAN_PX, dy: 0 },
  ArrowUp: { type: 'pan', dx: 0, dy: PAN_PX },
  ArrowDown: { type: 'pan', dx: 0, dy: -PAN_PX },
  n: { type: 'mark', move: 'next' },
  p: { type: 'mark', move: 'previous' },
  b: { type: 'exchange' },
  Enter: { type: 'choose' },
  Escape: { type: 'leave' },
};

/** Nothing while a key for the system or the menu is held. */
export function actionOfKey({ key, altKey, ctrlKey, metaKey }: StageKey): StageAction | undefined {
  if (altKey || ctrlKey || metaKey) return undefined;
  return ACTIONS[key.length === 1 ? key.toLowerCase() : key];
}

const MOVES: Readonly<Record<string, Move>> = {
  ArrowRight: 'next',
  ArrowLeft: 'previous',
  ArrowUp: 'up',
  ArrowDown: 'down',
  n: 'next',
  p: 'previous',
  Home: 'first',
  End: 'last',
};

/** The same in the list of marks, where the arrows go from mark to mark. */
export function moveOfKey({ key, altKey, ctrlKey, metaKey }: StageKey): Move | undefined {
  if (altKey || ctrlKey || metaKey) return undefined;
  return MOVES[key.length === 1 ? key.toLowerCase() : key];
}
