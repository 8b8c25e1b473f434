/** What the keys do while the stage has the focus. */
import type { Move } from '../layers/marks.ts';

export type StageAction =
  | { readonly type: 'zoom'; readonly factor: number }
  | { readonly type: 'pan'; readonly dx: number; readonly dy: number }
  | { readonly type: 'mark'; readonly move: Move }
  | { readonly type: 'fit' | 'actual-size' | 'exchange' | 'choose' | 'leave' };

export interface StageKey {
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
