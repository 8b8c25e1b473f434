/**
 * The decision table: what can be wrong, how often, and what it does to the light and to the pictures' shape.
 *
 * A row says what a fault changes in the machine and by how much (a range with its spread). What the camera then sees
 * follows from optics (`predict-eyes.ts`) or, for the shape of the pictures, from the spreads themselves. Everything
 * here that is not optics is an assumption of ours or common practice without a source, and says so; it only ever
 * orders causes, and where causes make the same photographs the order is that of the priors and nothing more.
 *
 * `prior`: odds of the fault against its absence in a house that photographs its target.
 */
import type { CauseCode, CheckCode, Hazard } from './cause-codes.ts';

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
export const WAYS = ['seen', 'mirrored', 'upside-down', 'one-picture', 'one-photograph-dark'] as const;
export type Way = (typeof WAYS)[number];

/** How a leak lies over the field: alike everywhere, smoothly different, or in one place only. */
export const LEAK_SHAPES = ['even', 'smooth', 'patch'] as const;
export type LeakShape = (typeof LEAK_SHAPES)[number];

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
  readonly shapes: Readonly<Record<LeakShape, number>>;
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

/** Through a house without a fault: leak over signal of both lenses together, and of one lens against the other. */
export const USUAL_LIGHT = {
  /** Median and spread (of the logarithm) of the common floor; 200 : 1 through a metallic screen is called good. */
  floor: 0.004,
  floorSpread: 0.5,
  /** What a lens leaks more or less than the other, as a fraction of the signal: a degree or two of its own. */
  lensSpread: 0.0015,
  /** Relative spread of what a leak is known to follow from optics: sheets, tone curve, place. */
  relativeSpread: 0.1,
  /** Spread of the logarithm of right-eye over left-eye picture's light. */
  balanceSpread: 0.12,
} as const;

/** Spread of the vertical offset of pictures on which screws have been at work, and of what a half frame moves them by, ih. */
export const USUAL_OFFSET_IH = 0.006;

/** Spreads of the shape of pictures in a house without a fault, percent. */
export const USUAL_SHAPE_PCT: Readonly<Record<ShapeTerm, number>> = {
  size: 0.15,
  stretch: 0.05,
  shear: 0.05,
  keystoneH: 0.12,
  keystoneV: 0.12,
};

const EVEN = { even: 0.93, smooth: 0.05, patch: 0.02 } as const;
const MOSTLY_EVEN = { even: 0.7, smooth: 0.2, patch: 0.1 } as const;
const SEEN = { seen: 1 } as const;
const turned = (low: number, high: number): Spread => ({ kind: 'log-uniform', low, high });
const held = (sigma: number, low: number, high: number): Spread => ({ kind: 'half-normal', sigma, low, high });
const only = (change: LightChange) => [{ share: 1, change }];

export const LIGHT_ROWS: readonly LightRow[] = [
  {
    field: 'light',
    code: 'projector-polarizer-turned',
    eachEye: true,
    prior: 0.06,
    basis: 'assumption',
    because: 'holders slip, and sheets are put back after cleaning by eye',
    changes: only({ what: 'picture-turned', by_deg: turned(3, 45) }),
    shapes: EVEN,
    ways: SEEN,
    alone: false,
    check: 'turn-projector-polarizer',
    hazards: ['projector', 'port'],
  },
  {
    field: 'light',
    code: 'glasses-lens-turned',
    eachEye: true,
    prior: 0.035,
    basis: 'assumption',
    because: 'a single lens is held before the camera by hand, or sits askew in its frame',
    changes: only({ what: 'lens-turned', by_deg: turned(3, 30) }),
    shapes: EVEN,
    ways: SEEN,
    alone: false,
    check: 'repeat-with-known-glasses',
    hazards: [],
  },
  {
    field: 'light',
    code: 'one-path-depolarizes',
    eachEye: true,
    prior: 0.012,
    basis: 'assumption',
    because: 'heat spoils one sheet before the other; glass behind a sheet belongs to one path',
    changes: only({ what: 'picture-depolarized', part: turned(0.02, 1) }),
    shapes: MOSTLY_EVEN,
    ways: SEEN,
    alone: false,
    check: 'look-at-ports-through-glasses',
    hazards: ['projector', 'port'],
  },
  {
    field: 'light',
    code: 'glasses-tilted',
    eachEye: false,
    prior: 0.06,
    basis: 'assumption',
    because: 'glasses are held before the camera by hand, level to a few degrees',
    changes: only({ what: 'all-turned', by_deg: held(5, 3, 25) }),
    shapes: EVEN,
    ways: SEEN,
    alone: false,
    check: 'level-the-glasses',
    hazards: [],
  },
  {
    field: 'light',
    code: 'both-polarizers-turned',
    eachEye: false,
    prior: 0.02,
    basis: 'common-practice',
    because: 'polarizers fixed to the attachment turn with it when the horizontal error is cured',
    changes: only({ what: 'all-turned', by_deg: held(6, 3, 30) }),
    shapes: EVEN,
    ways: SEEN,
    alone: false,
    check: 'turn-projector-polarizer',
    hazards: ['projector', 'port'],
  },
  {
    field: 'light',
    code: 'screen-depolarizes',
    eachEye: false,
    prior: 0.05,
    basis: 'common-practice',
    because: 'only a metallic screen keeps polarization; a matte or repainted one does not',
    changes: [
      { share: 0.8, change: { what: 'light-depolarized', part: turned(0.02, 0.5) } },
      { share: 0.2, change: { what: 'light-depolarized', part: turned(0.6, 1) } },
    ],
    shapes: MOSTLY_EVEN,
    ways: SEEN,
    alone: false,
    check: 'hold-metal-sheet-at-screen',
    hazards: ['ladder'],
  },
  {
    field: 'light',
    code: 'screen-patch-depolarizes',
    eachEye: false,
    prior: 0.015,
    basis: 'assumption',
    because: 'stains and repairs of the coating are local',
    changes: only({ what: 'light-depolarized', part: turned(0.01, 0.2) }),
    shapes: { even: 0.1, smooth: 0.2, patch: 0.7 },
    ways: SEEN,
    alone: false,
    check: 'hold-metal-sheet-at-screen',
    hazards: ['ladder'],
  },
  {
    field: 'light',
    code: 'port-glass-strained',
    eachEye: false,
    prior: 0.02,
    basis: 'assumption',
    because: 'clamped or toughened panes turn the polarization, differently over the pane',
    changes: only({ what: 'light-depolarized', part: turned(0.01, 0.2) }),
    shapes: { even: 0.25, smooth: 0.7, patch: 0.05 },
    ways: SEEN,
    alone: false,
    check: 'compare-with-port-glass-open',
    hazards: ['port', 'ladder'],
  },
  {
    field: 'light',
    code: 'polarizers-missing',
    eachEye: false,
    prior: 0.02,
    basis: 'assumption',
    because: 'sheets are taken out for other shows and burn through at the lens',
    changes: only({ what: 'unpolarized' }),
    shapes: EVEN,
    ways: SEEN,
    alone: true,
    check: 'look-at-ports-through-glasses',
    hazards: ['projector', 'port'],
  },
  {
    field: 'light',
    code: 'polarization-kinds-mixed',
    eachEye: false,
    prior: 0.012,
    basis: 'assumption',
    because: 'circular glasses of other shows look like linear ones',
    changes: only({ what: 'unpolarized' }),
    shapes: EVEN,
    ways: SEEN,
    alone: true,
    check: 'look-through-glasses-backwards',
    hazards: [],
  },
  {
    field: 'light',
    code: 'camera-filters-missing',
    eachEye: false,
    prior: 0.008,
    basis: 'assumption',
    because: 'the glasses slip from the camera or are forgotten',
    changes: only({ what: 'unpolarized' }),
    shapes: EVEN,
    ways: SEEN,
    alone: true,
    check: 'inspect-camera-filters',
    hazards: [],
  },
  {
    field: 'light',
    code: 'polarizers-exchanged',
    eachEye: false,
    prior: 0.025,
    basis: 'common-practice',
    because: 'the two axes stand 90 degrees apart, so a sheet put in sideways serves the other eye',
    changes: only({ what: 'exchanged' }),
    shapes: EVEN,
    ways: SEEN,
    alone: false,
    check: 'look-at-ports-through-glasses',
    hazards: ['projector', 'port'],
  },
  {
    field: 'light',
    code: 'camera-filters-exchanged',
    eachEye: false,
    prior: 0.018,
    basis: 'assumption',
    because: 'linear glasses held back to front serve the other eye; photographs get into the wrong place',
    changes: only({ what: 'exchanged' }),
    shapes: EVEN,
    ways: SEEN,
    alone: false,
    check: 'repeat-with-known-glasses',
    hazards: [],
  },
  {
    field: 'light',
    code: 'half-frame-threading',
    eachEye: false,
    prior: 0.015,
    basis: 'assumption',
    because: 'two perforations look alike in the gate when septum and frame line are of one width',
    changes: only({ what: 'exchanged-by-half-frame' }),
    shapes: EVEN,
    ways: SEEN,
    alone: false,
    check: 'look-at-frame-line-in-gate',
    hazards: ['projector', 'film'],
  },
  {
    field: 'light',
    code: 'picture-missing',
    eachEye: true,
    prior: 0.01,
    basis: 'assumption',
    because: 'a card, a shutter or a fallen mirror stands in one path',
    changes: only({ what: 'nothing' }),
    shapes: EVEN,
    ways: { 'one-picture': 0.5, 'one-photograph-dark': 0.5 },
    alone: true,
    check: 'look-at-screen-without-glasses',
    hazards: ['projector', 'port'],
  },
  {
    field: 'light',
    code: 'film-turned-over',
    eachEye: false,
    prior: 0.012,
    basis: 'common-practice',
    because: 'the emulsion must face as the leader says; a loop has no leader',
    changes: only({ what: 'nothing' }),
    shapes: EVEN,
    ways: { mirrored: 0.8, 'upside-down': 0.2 },
    alone: true,
    check: 'look-at-film-in-gate',
    hazards: ['projector', 'film'],
  },
  {
    field: 'light',
    code: 'photograph-mistaken',
    eachEye: false,
    prior: 0.03,
    basis: 'assumption',
    because: 'one lens twice, too little exposure, a file turned or mirrored by a program',
    changes: only({ what: 'nothing' }),
    shapes: EVEN,
    ways: { mirrored: 0.1, 'upside-down': 0.2, 'one-picture': 0.4, 'one-photograph-dark': 0.3 },
    alone: true,
    check: 'look-at-screen-without-glasses',
    hazards: [],
  },
];

export const SHAPE_ROWS: readonly ShapeRow[] = [
  {
    field: 'shape',
    code: 'path-lengths-differ',
    prior: 0.05,
    basis: 'assumption',
    because: 'the mirrors of both paths are set by hand',
    spread_pct: { size: 1 },
    check: 'measure-path-lengths',
    hazards: ['projector', 'port'],
  },
  {
    field: 'shape',
    code: 'lens-elements-differ',
    prior: 0.015,
    basis: 'assumption',
    because: 'the lenses of the two paths come as a pair, but are not always kept as one',
    spread_pct: { size: 0.8 },
    check: 'compare-lens-focal-lengths',
    hazards: ['projector', 'port'],
  },
  {
    field: 'shape',
    code: 'mirror-not-flat',
    prior: 0.02,
    basis: 'assumption',
    because: 'a curved mirror that stands at an angle magnifies one way more than the other',
    spread_pct: { size: 0.6, stretch: 0.4, shear: 0.15 },
    check: 'loosen-mirror-clamps',
    hazards: ['projector', 'port'],
  },
  {
    field: 'shape',
    code: 'mirror-strained',
    prior: 0.03,
    basis: 'assumption',
    because: 'clamps drawn up too hard bend a mirror',
    spread_pct: { stretch: 0.7, shear: 0.7, keystoneH: 0.15, keystoneV: 0.15, size: 0.1 },
    check: 'loosen-mirror-clamps',
    hazards: ['projector', 'port'],
  },
  {
    field: 'shape',
    code: 'attachment-off-axis',
    prior: 0.03,
    basis: 'assumption',
    because: 'the attachment is put on and taken off between shows',
    spread_pct: { keystoneH: 0.9, keystoneV: 0.9, stretch: 0.1, shear: 0.1 },
    check: 'measure-attachment-squareness',
    hazards: ['projector', 'port'],
  },
];

export const CAUSE_ROWS: readonly CauseRow[] = [...LIGHT_ROWS, ...SHAPE_ROWS];
