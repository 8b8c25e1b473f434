/** What a row of the decision table says: the change a fault makes in the machine, how often it is there, what cures it. */
import type { CrosstalkShape } from '../light/survey-crosstalk.ts';

/** The names of causes and checks, as they stand in readings. A name keeps its meaning for ever. */

export const CAUSE_CODES = [
  'half-frame-threading',
  'polarizers-exchanged',
  'camera-filters-exchanged',
  'polarizers-missing',
  'polarization-kinds-mixed',
  'screen-depolarizes',
  'camera-filters-missing',
  'projector-polarizer-turned',
  'glasses-lens-turned',
  'one-path-depolarizes',
  'glasses-tilted',
  'both-polarizers-turned',
  'port-glass-strained',
  'screen-patch-depolarizes',
  'picture-missing',
  'film-turned-over',
  'photograph-mistaken',
  'nothing-broken',
  'stray-image',
  'path-lengths-differ',
  'mirror-not-flat',
  'lens-elements-differ',
  'mirror-strained',
  'attachment-off-axis',
] as const;
export type CauseCode = (typeof CAUSE_CODES)[number];

export const CHECK_CODES = [
  'look-at-screen-without-glasses',
  'look-where-the-ghost-is',
  'roll-glasses-both-ways',
  'level-the-glasses',
  'repeat-with-known-glasses',
  'inspect-camera-filters',
  'look-through-glasses-backwards',
  'look-at-ports-through-glasses',
  'turn-projector-polarizer',
  'look-at-film-in-gate',
  'look-at-frame-line-in-gate',
  'compare-with-port-glass-open',
  'hold-metal-sheet-at-screen',
  'measure-path-lengths',
  'loosen-mirror-clamps',
  'compare-lens-focal-lengths',
  'measure-attachment-squareness',
  'watch-stray-while-masking',
] as const;
export type CheckCode = (typeof CHECK_CODES)[number];

/** Where hands, eyes or feet get into danger; each has its cautions. */
export type Hazard = 'projector' | 'film' | 'port' | 'ladder';

/** A range of sizes. `log-uniform`: each factor is as likely; `half-normal`: small ones likely, from `low` on. */
export type Spread =
  | { readonly kind: 'log-uniform'; readonly low: number; readonly high: number }
  | { readonly kind: 'half-normal'; readonly sigma: number; readonly low: number; readonly high: number };

/** What changes in the light. `each eye`: the row stands for two faults, one of either picture or lens. */
export type LightChange =
  | { readonly what: 'picture-turned' | 'lens-turned' | 'all-turned'; readonly by_deg: Spread }
  | { readonly what: 'light-depolarized' | 'picture-depolarized'; readonly part: Spread }
  | { readonly what: 'exchanged' | 'exchanged-by-half-frame' | 'unpolarized' | 'nothing' };

/** How a pair of photographs can fail to show both pictures as they should be. */
const WAYS = ['seen', 'mirrored', 'upside-down', 'one-picture', 'one-photograph-dark'] as const;
export type Way = (typeof WAYS)[number];

/** The terms of the pictures' shape that no screw sets, and the size. */
export type ShapeTerm = 'size' | 'stretch' | 'shear' | 'keystoneH' | 'keystoneV';

interface RowFacts {
  readonly code: CauseCode;
  readonly prior: number;
  /** Where the prior comes from. */
  readonly basis: 'common-practice' | 'assumption';
  readonly because: string;
  /** The check that tells whether it is this one. */
  readonly check: CheckCode;
  /** Where the remedy sends hands. */
  readonly hazards: readonly Hazard[];
}

export interface LightRow extends RowFacts {
  readonly field: 'light';
  readonly eachEye: boolean;
  /** One of them happens, with its share. */
  readonly changes: readonly { readonly share: number; readonly change: LightChange }[];
  readonly shapes: Readonly<Record<CrosstalkShape, number>>;
  readonly ways: Readonly<Partial<Record<Way, number>>>;
  /** Not considered together with another fault of the light: nothing of that one would be left to see. */
  readonly alone: boolean;
}

export interface ShapeRow extends RowFacts {
  readonly field: 'shape';
  /** Standard deviations of what it adds to the terms, percent. */
  readonly spread_pct: Readonly<Partial<Record<ShapeTerm, number>>>;
}

export type CauseRow = LightRow | ShapeRow;
