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
