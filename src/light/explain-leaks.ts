/**
 * The leaks through both lenses together: which single error would make them, and how well.
 *
 *   left lens:  signal angle  a_L - l_L - g,   leak angle  a_R - l_L - g      (likewise right)
 *
 * a_L and a_R are the errors of the pictures' polarizations, l_L and l_R those of the lenses in their frame, g the roll
 * of the whole glasses. One floor f is common to both lenses. Both leaks rise alike when the glasses roll and when the
 * floor rises, and these two cannot be told apart without further shots; one leak alone rises when one lens or one
 * picture's polarizer is off, and these two differ by the loss of signal only.
 *
 * Numbers only; what to make of them is for the findings.
 */
import { radiansFromDegrees } from '../kernel/angles.ts';
import { EYES, type Eye, otherEye } from '../kernel/eye.ts';
import { averageMeasured, type Measured } from '../kernel/measured.ts';
import { type AngleRange, type FloorKnowledge, findPolarizerError } from './polarizer-error.ts';

/** Degrees; counter-clockwise as seen from the audience. What is left out is right. */
export interface PolarizationErrors {
  readonly picture_deg?: Readonly<Partial<Record<Eye, number>>>;
  readonly lens_deg?: Readonly<Partial<Record<Eye, number>>>;
  readonly glasses_deg?: number;
}

/** Leak over signal through each lens. */
export type Leaks = Readonly<Record<Eye, Measured>>;

export type LeakCause =
  | 'glasses-turned'
  | 'depolarized'
  | 'left-lens-turned'
  | 'right-lens-turned'
  | 'left-picture-turned'
  | 'right-picture-turned';

export interface LeakExplanation {
  readonly cause: LeakCause;
  /** The error that explains the leaks; null for `depolarized`, where nothing is turned. */
  readonly angle: AngleRange | null;
  /** Whether that angle is known apart from the floor. */
  readonly isSeparated: boolean;
  /** The floor that goes with it: a range where it could be anything within. */
  readonly floor: { readonly min: number; readonly max: number };
  /** Sum of squared deviations that it leaves unexplained, with so many degrees of freedom. */
  readonly chiSquared: number;
  readonly degrees: number;
}

/** Leak over signal through each lens for given errors; `balance` is the right-eye picture's light over the left one's. */
export function predictLeaks(errors: PolarizationErrors, floor = 0, balance = 1): Readonly<Record<Eye, number>> {
  const { picture_deg = {}, lens_deg = {}, glasses_deg = 0 } = errors;
  const through = (lens: Eye) => {
    const angle = (picture: Eye) => (picture_deg[picture] ?? 0) - (lens_deg[lens] ?? 0) - glasses_deg;
    const leak = floor + (1 - floor) * Math.sin(radiansFromDegrees(angle(otherEye(lens)))) ** 2;
    const signal = floor + (1 - floor) * Math.cos(radiansFromDegrees(angle(lens))) ** 2;
    return (leak / signal) * (lens === 'left' ? balance : 1 / balance);
  };
  return { left: through('left'), right: through('right') };
}

/**
 * Every single error with the size that explains the leaks best, the best explanation first. `floor` where it is known
 * from elsewhere; otherwise it is a common one that the leaks themselves bound or, where one lens is right, give.
 * `balance`: the right-eye picture's light over the left one's, where it is known; the leaks are freed of it.
 *
 * @example
 * const [best] = explainLeaks({ left: { value: 0.03, u: 0.001 }, right: { value: 0.004, u: 0.001 } });
 * // best.cause: one lens or one picture's polarizer; best.angle: degrees with their 95 % interval
 */
export function explainLeaks(
  measured: Leaks,
  floor?: Measured,
  balance: Measured = { value: 1, u: 0 },
): LeakExplanation[] {
  const leaks = { left: divide(measured.left, balance), right: multiply(measured.right, balance) };
  const explanations = [
    ...explainAlike(leaks, floor),
    ...EYES.flatMap((eye) => [explainLens(leaks, eye, floor), explainPicture(leaks, eye, floor)]),
  ];
  return explanations.filter((found) => found !== undefined).sort((a, b) => a.chiSquared - b.chiSquared);
}

function multiply(a: Measured, b: Measured): Measured {
  return { value: a.value * b.value, u: Math.hypot(a.u * b.value, b.u * a.value) };
}

function divide(a: Measured, b: Measured): Measured {
  return { value: a.value / b.value, u: Math.hypot(a.u, (b.u * a.value) / b.value) / b.value };
}

/** Both lenses leak alike: the glasses are turned, or nothing is and it is all floor. */
function explainAlike({ left, right }: Leaks, floor: Measured | undefined): LeakExplanation[] {
  const { chiSquared, ...mean } = averageMeasured([left, right]);
  const knowledge: FloorKnowledge = floor
    ? { kind: 'measured', floor }
    : { kind: 'bounded', min: 0, max: Math.max(0, mean.value) };
  const error = findPolarizerError(mean, knowledge);
  const turned: LeakExplanation[] =
    error.outcome === 'refused'
      ? []
      : [
          {
            cause: 'glasses-turned',
            angle: error.angle,
            isSeparated: error.outcome === 'separated',
            floor: error.outcome === 'separated' ? boundsOf(error.floor) : error.floor,
            chiSquared,
            degrees: 1,
          },
        ];
  const apart = floor ? deviation(mean, floor) ** 2 : 0;
  const depolarized: LeakExplanation = {
    cause: 'depolarized',
    angle: null,
    isSeparated: true,
    floor: boundsOf(floor ?? mean),
    chiSquared: chiSquared + apart,
    degrees: floor ? 2 : 1,
  };
  return [...turned, depolarized];
}

/** One lens is turned in its frame: its own leak holds the angle, the other lens shows the floor. */
function explainLens(leaks: Leaks, lens: Eye, floor: Measured | undefined): LeakExplanation | undefined {
  const idle = leaks[otherEye(lens)];
  return oneSided(lens === 'left' ? 'left-lens-turned' : 'right-lens-turned', leaks[lens], idle, floor ?? idle, floor);
}

/**
 * One picture's polarizer is turned: it leaks through the other lens, whose signal stays whole, q = f + (1 - f) sin^2;
 * its own lens keeps the floor but loses signal.
 */
function explainPicture(leaks: Leaks, picture: Eye, floor: Measured | undefined): LeakExplanation | undefined {
  const leak = leaks[otherEye(picture)];
  const own = leaks[picture];
  // From q_own = f / (1 - q + f): the floor that the own lens shows in less signal.
  const kept = Math.max(0, 1 - leak.value) / (1 - own.value);
  const shown = own.value < 1 ? { value: own.value * kept, u: own.u * kept } : own;
  // As a leak over a signal that had been weakened alike, for which the formula of the angle is made.
  const signal = 1 + (floor ?? shown).value - leak.value;
  if (!(signal > 0)) return undefined;
  const weakened = { value: leak.value / signal, u: (leak.u * (1 + (floor ?? shown).value)) / signal ** 2 };
  const cause = picture === 'left' ? 'left-picture-turned' : 'right-picture-turned';
  return oneSided(cause, weakened, shown, floor ?? shown, floor);
}

function oneSided(
  cause: LeakCause,
  leak: Measured,
  idle: Measured,
  floorUsed: Measured,
  floorKnown: Measured | undefined,
): LeakExplanation | undefined {
  const error = findPolarizerError(leak, { kind: 'measured', floor: floorUsed });
  if (error.outcome === 'refused') return undefined;
  // Below the floor there is no angle that would help, and the whole difference stays unexplained.
  const unexplained = Math.min(0, deviation(leak, floorUsed)) ** 2;
  const ofIdle = floorKnown ? deviation(idle, floorKnown) ** 2 : 0;
  return {
    cause,
    angle: error.angle,
    isSeparated: true,
    floor: boundsOf(floorUsed),
    chiSquared: unexplained + ofIdle,
    degrees: floorKnown ? 1 : 0,
  };
}

function deviation(a: Measured, b: Measured): number {
  return (a.value - b.value) / Math.hypot(a.u, b.u);
}

function boundsOf({ value, u }: Measured): { readonly min: number; readonly max: number } {
  return { min: Math.max(0, value - 2 * u), max: Math.max(0, value + 2 * u) };
}
