/**
 * What can explain the findings: an ordered list of causes, each with its evidence and the one check that separates it
 * from the others. First the eyes (a half-frame error changes the geometry too), then ghosts, then the geometry.
 *
 * A polarizer turned by phi passes sin^2(phi) of the other eye's picture and cos^2(phi) of its own (Malus), so that a
 * leak is explained by phi = atan(sqrt(leak)). A lens of the glasses turned by phi, or a screen, a glass or a mirror
 * that depolarizes, leaks in the same way: the number cannot tell them apart, the check can.
 */
import { fieldOfTerms, type Misalignment, type Term, type TermVector } from '../geometry/misalignment.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Eyes } from '../light/eyes.ts';
import { predictHalfFrameOffset } from './film-frame.ts';
import type { Finding, JudgedReading } from './judge.ts';
import { limitTerms } from './limits.ts';
import type { FindingCode } from './tolerances.ts';

export const CAUSE_CODES = [
  'half-frame-threading',
  'polarizers-exchanged',
  'camera-filters-exchanged',
  'polarizers-missing',
  'screen-depolarizes',
  'camera-filters-missing',
  'projector-polarizer-turned',
  'glasses-lens-turned',
  'one-path-depolarizes',
  'glasses-tilted',
  'both-polarizers-turned',
  'port-glass-strained',
  'path-lengths-differ',
  'mirror-not-flat',
  'lens-elements-differ',
  'mirror-strained',
  'attachment-off-axis',
] as const;
export type CauseCode = (typeof CAUSE_CODES)[number];

export const CHECK_CODES = [
  'look-at-frame-line-in-gate',
  'look-at-ports-through-glasses',
  'repeat-with-filters-exchanged',
  'inspect-camera-filters',
  'hold-metal-sheet-at-screen',
  'turn-projector-polarizer',
  'turn-camera-filter',
  'compare-with-port-glass-open',
  'measure-path-lengths',
  'loosen-mirror-clamps',
  'compare-lens-focal-lengths',
  'measure-attachment-squareness',
] as const;
export type CheckCode = (typeof CHECK_CODES)[number];

/** One figure or word behind a cause; the unit stands in the name: `leak_left_lens_pct`. */
export interface EvidenceItem {
  readonly name: string;
  readonly value: number | string;
  readonly u?: number;
}

export interface Cause {
  readonly code: CauseCode;
  readonly evidence: readonly EvidenceItem[];
  readonly check: CheckCode;
}

/** Causes of what `findings` found outside, most likely first. Empty where nothing is outside. */
export function findCauses(
  reading: JudgedReading & { upperPortShows: 'left' | 'right' },
  findings: readonly Finding[],
): Cause[] {
  const isOutside = (...codes: FindingCode[]) =>
    findings.some((f) => codes.includes(f.code) && f.verdict === 'outside');
  const { misalignment, eyes } = reading;
  const causes: Cause[] = [];
  if (isOutside('no-polarization')) causes.push(...explainMissingPolarization(eyes));
  else {
    if (isOutside('eyes-exchanged')) causes.push(...explainExchange(reading));
    if (isOutside('crosstalk-left', 'crosstalk-right')) causes.push(...explainGhost(eyes));
  }
  if (isOutside('size')) causes.push(...explainSize(reading));
  if (
    isOutside('worst-vertical') &&
    distortionAlone(misalignment, reading.aspect) > limitTerms(reading.house, reading.aspect).worstVertical
  )
    causes.push(...explainDistortion(misalignment));
  return causes;
}

function explainMissingPolarization(eyes: Eyes): Cause[] {
  const evidence = [
    percent('leak_left_lens_pct', eyes.leakLeftLens),
    percent('leak_right_lens_pct', eyes.leakRightLens),
  ];
  return [
    { code: 'polarizers-missing', evidence, check: 'look-at-ports-through-glasses' },
    { code: 'screen-depolarizes', evidence, check: 'hold-metal-sheet-at-screen' },
    { code: 'camera-filters-missing', evidence, check: 'inspect-camera-filters' },
  ];
}

/**
 * Half-frame threading moves the pictures by a known amount; where the offset found lies nearer to that than to none,
 * it comes first, otherwise the exchange without consequences for the geometry does.
 */
function explainExchange({
  misalignment,
  eyes,
  house,
  aspect,
  upperPortShows,
}: Parameters<typeof findCauses>[0]): Cause[] {
  const evidence = [
    percent('crosstalk_left_pct', eyes.crosstalkLeft),
    percent('crosstalk_right_pct', eyes.crosstalkRight),
  ];
  const exchanges: Cause[] = [
    { code: 'polarizers-exchanged', evidence, check: 'look-at-ports-through-glasses' },
    { code: 'camera-filters-exchanged', evidence, check: 'repeat-with-filters-exchanged' },
  ];
  const offset = misalignment.terms.verticalOffset;
  const predicted = house && predictHalfFrameOffset(house.film, aspect, upperPortShows);
  const halfFrame: Cause = {
    code: 'half-frame-threading',
    evidence: [
      percent('vertical_offset_pct', offset),
      ...(predicted === undefined ? [] : [{ name: 'half_frame_vertical_offset_pct', value: 100 * predicted }]),
    ],
    check: 'look-at-frame-line-in-gate',
  };
  const nearer = predicted !== undefined && Math.abs(offset.value - predicted) < Math.abs(offset.value);
  return nearer ? [halfFrame, ...exchanges] : [...exchanges, halfFrame];
}

/** A leak counts as one-sided when it is significantly larger than, and at least three times, the other one. */
const ONE_SIDED_RATIO = 3;

function explainGhost(eyes: Eyes): Cause[] {
  const { leakLeftLens: left, leakRightLens: right } = eyes;
  const [more, less, lens] = left.value >= right.value ? [left, right, 'left'] : [right, left, 'right'];
  const oneSided =
    more.value - less.value > 2 * Math.hypot(more.u, less.u) && more.value > ONE_SIDED_RATIO * Math.max(less.value, 0);
  const leaks = [percent('leak_left_lens_pct', left), percent('leak_right_lens_pct', right)];
  if (oneSided) {
    const angle = { name: 'polarizer_angle_deg', ...angleOfLeak(more) };
    const otherPicture = lens === 'left' ? 'right' : 'left';
    return [
      {
        code: 'projector-polarizer-turned',
        evidence: [...leaks, angle, { name: 'polarizer_of_picture', value: otherPicture }],
        check: 'turn-projector-polarizer',
      },
      {
        code: 'glasses-lens-turned',
        evidence: [...leaks, angle, { name: 'lens', value: lens }],
        check: 'turn-camera-filter',
      },
      {
        code: 'one-path-depolarizes',
        evidence: [...leaks, { name: 'path_of_picture', value: otherPicture }],
        check: 'compare-with-port-glass-open',
      },
    ];
  }
  const mean = { value: (left.value + right.value) / 2, u: Math.hypot(left.u, right.u) / 2 };
  const evidence = [...leaks, { name: 'polarizer_angle_deg', ...angleOfLeak(mean) }];
  return [
    { code: 'glasses-tilted', evidence, check: 'turn-camera-filter' },
    { code: 'both-polarizers-turned', evidence, check: 'turn-projector-polarizer' },
    { code: 'screen-depolarizes', evidence: leaks, check: 'hold-metal-sheet-at-screen' },
    { code: 'port-glass-strained', evidence: leaks, check: 'compare-with-port-glass-open' },
  ];
}

/** phi = atan(sqrt(leak)) in degrees, without the floor of the polarizers: an upper bound of the angle. */
export function angleOfLeak({ value, u }: Measured): Measured {
  const root = Math.sqrt(Math.max(value, 0));
  const deg = 180 / Math.PI;
  // d phi / d leak = 1 / (2 sqrt(leak) (1 + leak)) grows without bound towards no leak; half the angle of 2u bounds it there.
  const slope = root > 0 ? 1 / (2 * root * (1 + root * root)) : Number.POSITIVE_INFINITY;
  return { value: deg * Math.atan(root), u: deg * Math.min(slope * u, Math.atan(Math.sqrt(2 * u)) / 2) };
}

/** Beams from one lens are as large as their paths are long, so a size difference is the paths' relative difference. */
function explainSize({ misalignment, house }: JudgedReading): Cause[] {
  const size = misalignment.terms.size;
  const evidence = [percent('size_pct', size)];
  const path = house
    ? [{ name: 'path_difference_mm', value: size.value * house.throw_m * 1000, u: size.u * house.throw_m * 1000 }]
    : [];
  return [
    { code: 'path-lengths-differ', evidence: [...evidence, ...path], check: 'measure-path-lengths' },
    { code: 'mirror-not-flat', evidence, check: 'loosen-mirror-clamps' },
    { code: 'lens-elements-differ', evidence, check: 'compare-lens-focal-lengths' },
  ];
}

const DISTORTIONS: readonly Term[] = ['stretch', 'shear', 'keystoneH', 'keystoneV'];

/** The largest |d_y| that stretch, shear and keystone make by themselves: it stands on the picture's edge. */
function distortionAlone({ terms }: Misalignment, aspect: number): number {
  const alone = Object.fromEntries(
    Object.entries(terms).map(([term, { value }]) => [term, DISTORTIONS.includes(term as Term) ? value : 0]),
  ) as TermVector;
  let worst = 0;
  for (const x of [-aspect / 2, aspect / 2])
    for (const y of [-0.5, 0, 0.5]) worst = Math.max(worst, Math.abs(fieldOfTerms(alone, { x, y }).y));
  return worst;
}

function explainDistortion({ terms }: Misalignment): Cause[] {
  const bend = [percent('stretch_pct', terms.stretch), percent('shear_pct', terms.shear)];
  const tilt = [percent('keystone_h_pct', terms.keystoneH), percent('keystone_v_pct', terms.keystoneV)];
  const strained: Cause = { code: 'mirror-strained', evidence: [...bend, ...tilt], check: 'loosen-mirror-clamps' };
  const offAxis: Cause = {
    code: 'attachment-off-axis',
    evidence: [...tilt, ...bend],
    check: 'measure-attachment-squareness',
  };
  const amount = (a: Measured, b: Measured) => Math.hypot(a.value, b.value);
  return amount(terms.stretch, terms.shear) >= amount(terms.keystoneH, terms.keystoneV)
    ? [strained, offAxis]
    : [offAxis, strained];
}

function percent(name: string, { value, u }: Measured): EvidenceItem {
  return { name, value: 100 * value, u: 100 * u };
}
