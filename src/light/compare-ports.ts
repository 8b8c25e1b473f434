/**
 * Which port of the attachment is dark to which eye, from the light of both ports in a photograph through each lens of the
 * glasses.
 *
 *   q = darker / brighter,   the light of one port through the two lenses, freed of the exposures
 *   q = tan^2 phi            by the law of Malus, phi the angle between the lens that lets it through and its polarizer
 *
 * A port whose q lies, with its 95 % interval, below DARK is dark to the lens through which it is darker; one whose q lies
 * above ALIKE is dark to neither; between them nothing is concluded. Where the exposures of the two photographs are not
 * known, q is uncertain by their ratio, and by what a camera bends tones: far too little to take dark for bright.
 *
 * A light below zero, which noise leaves of a dark port, counts as none; its uncertainty stays. Where the brighter light is
 * burnt out, q is smaller than measured: dark it stays, alike it need not be.
 *
 * Reference: law of Malus. Our own limits: q of 1/4 is a polarizer 27 degrees off, 1/2 one of 35.
 */
import { degreesFromRadians } from '../kernel/angles.ts';
import type { Eye } from '../kernel/eye.ts';
import { otherEye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';

/** Above or below, or side by side as seen from the house. */
export const PORT_PLACES = ['first', 'second'] as const;
export type PortPlace = (typeof PORT_PLACES)[number];

export interface PortLight {
  /** Linear light above what surrounds the port. */
  readonly light: Measured;
  readonly isClipped: boolean;
}

/** One port in both photographs. */
export type PortThroughLenses = Readonly<Record<Eye, PortLight>>;

export interface PortComparison {
  /** The upper or, side by side, the left one first. */
  readonly first: PortThroughLenses;
  readonly second: PortThroughLenses;
  /** Logarithm of the exposure through the right lens over that through the left one. */
  readonly logExposure: Measured;
}

export interface JudgedPort {
  /** The lens through which it is dark; `neither` where it is alike through both, `unclear` between. */
  readonly darkTo: Eye | 'neither' | 'unclear';
  /** Darker over brighter, 0 to about 1. */
  readonly ratio: Measured;
  /** The lens through which it is darker. */
  readonly darkerThrough: Eye;
  /** Of the polarizer against the lens that lets most through, by that ratio; 45 where it is alike through both. */
  readonly angle_deg: number;
}

/**
 *   each-its-own    one port is dark to the left eye and the other to the right
 *   both-one-eye    both are dark to the same eye, so that the other gets both pictures
 *   one-neither     one is alike to both eyes
 *   both-neither    both are
 *   unclear         the photographs do not tell
 */
export type PortsVerdict = 'each-its-own' | 'both-one-eye' | 'one-neither' | 'both-neither' | 'unclear';

export interface ComparedPorts {
  readonly verdict: PortsVerdict;
  readonly first: JudgedPort;
  readonly second: JudgedPort;
  /** The eye that the first port serves; null unless each serves its own. */
  readonly firstServes: Eye | null;
}

/** Below it a port is dark, above it alike. */
const DARK = 0.25;
const ALIKE = 0.5;

/** Exponent by which a camera may bend its tones, where no grey steps tell: it bends every ratio by as much. */
const TONE_U = 0.1;

/**
 * What both ports tell together, each seen through both lenses of the glasses.
 *
 * @example
 * comparePorts({ first: upper, second: lower, logExposure: { value: 0, u: 0.01 } }).verdict; // 'each-its-own'
 */
export function comparePorts({ first, second, logExposure }: PortComparison): ComparedPorts {
  const judged = { first: judgePort(first, logExposure), second: judgePort(second, logExposure) };
  const [a, b] = [judged.first.darkTo, judged.second.darkTo];
  const verdict = verdictOf(a, b);
  return { ...judged, verdict, firstServes: verdict === 'each-its-own' ? otherEye(a as Eye) : null };
}

function verdictOf(a: JudgedPort['darkTo'], b: JudgedPort['darkTo']): PortsVerdict {
  if (a === 'unclear' || b === 'unclear') return 'unclear';
  if (a === 'neither' || b === 'neither') return a === b ? 'both-neither' : 'one-neither';
  return a === b ? 'both-one-eye' : 'each-its-own';
}

function judgePort(port: PortThroughLenses, logExposure: Measured): JudgedPort {
  const exposure = Math.exp(logExposure.value);
  const light: Readonly<Record<Eye, Measured>> = {
    left: { value: port.left.light.value * exposure, u: port.left.light.u * exposure },
    right: port.right.light,
  };
  const darkerThrough: Eye = light.left.value <= light.right.value ? 'left' : 'right';
  const brighter = otherEye(darkerThrough);
  const bare = ratioOf(light[darkerThrough], light[brighter]);
  const bend = bare.value > 0 ? TONE_U * bare.value * Math.log(bare.value) : 0;
  const ratio = { value: bare.value, u: Math.hypot(bare.u, bare.value * logExposure.u, bend) };
  return {
    darkerThrough,
    ratio,
    darkTo: classify(ratio, darkerThrough, port[brighter].isClipped),
    angle_deg: degreesFromRadians(Math.atan(Math.sqrt(ratio.value))),
  };
}

function classify({ value, u }: Measured, darkerThrough: Eye, isBrighterClipped: boolean): JudgedPort['darkTo'] {
  if (value + 2 * u < DARK) return darkerThrough;
  return value - 2 * u > ALIKE && !isBrighterClipped ? 'neither' : 'unclear';
}

/** A port that gives no light in either photograph has no ratio: anything is possible. */
function ratioOf(dark: Measured, bright: Measured): Measured {
  if (!(bright.value > 0)) return { value: 1, u: Number.MAX_VALUE };
  const value = Math.max(0, dark.value) / bright.value;
  return { value, u: Math.hypot(dark.u, value * bright.u) / bright.value };
}
