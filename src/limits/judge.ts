/**
 * Judges a reading against the tolerances, for the nearest row and a reference seat.
 *
 *   within     the whole 95 % interval, value - 2u to value + 2u, lies inside the limit
 *   outside    the whole interval lies outside
 *   undecided  the limit lies inside the interval
 */
import type { Misalignment } from '../geometry/misalignment.ts';
import type { Eye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Eyes } from '../light/eyes.ts';
import type { CrosstalkSurvey } from '../light/survey-crosstalk.ts';
import type { House } from '../record/house.ts';
import type { Verdict } from '../record/values.ts';
import {
  type Basis,
  type FindingCode,
  type Level,
  type Tolerance,
  tolerancesInForce,
  type Unit,
} from './tolerances.ts';
import { angleAtSeat, describeViewing, SEATS, type Seat, type Viewing } from './viewing.ts';

export interface Finding {
  readonly code: FindingCode;
  readonly level: Level;
  /** `null` where the seat does not matter. */
  readonly seat: Seat | null;
  readonly verdict: Verdict;
  /** Signed, in `unit`, with its standard uncertainty. */
  readonly value: number;
  readonly u: number;
  /** The limit on the side on which the value lies, positive. */
  readonly limit: number;
  readonly unit: Unit;
  readonly source: string;
  readonly basis: Basis;
  /** False where the limit is from memory and nobody has confirmed it. */
  readonly confirmed: boolean;
  /** True where the seat's distance was assumed because there is no House. */
  readonly seatAssumed: boolean;
}

/** A weak displaced copy of a picture. */
export interface SeenStray {
  readonly eye: Eye;
  /** Its light over its picture's. */
  readonly strength: Measured;
  readonly side: 'above' | 'below' | 'left' | 'right';
  /** How far it stands out on that side, and how far from the picture's edge on it lies over the picture, ih. */
  readonly beyond_ih: number;
  readonly over_ih: number;
}

/** What is judged, and for which house. */
export interface JudgedReading {
  readonly misalignment: Misalignment;
  /** Undefined where nobody looked through the glasses: then there is nothing to be said of eyes and ghosts. */
  readonly eyes: Eyes | undefined;
  /** Undefined where the leak was not measured over enough of the picture. */
  readonly crosstalkSurvey?: CrosstalkSurvey | undefined;
  /** The strongest first. */
  readonly strays?: readonly SeenStray[] | undefined;
  readonly house: House | undefined;
  /** Width over height of the measured picture. */
  readonly aspect: number;
}

/** Every finding, the eyes first, the closer limit and the nearer seat first. */
export function judge({ misalignment, eyes, crosstalkSurvey, strays = [], house, aspect }: JudgedReading): Finding[] {
  const viewing = describeViewing(house, aspect);
  return tolerancesInForce(house?.tolerances).flatMap((tolerance) => {
    if (tolerance.code === 'eyes-exchanged' || tolerance.code === 'no-polarization')
      return eyes ? judgeAssignment(tolerance, eyes) : [];
    if (tolerance.code === 'stray-image')
      return strays.slice(0, 1).map(({ strength }) => makeFinding(tolerance, scaleMeasured(strength, 100), null));
    if (tolerance.code === 'local-ghost') return judgeLocalGhost(tolerance, crosstalkSurvey);
    const quantity = quantityOf(tolerance, misalignment, eyes, aspect);
    if (!quantity) return [];
    if (tolerance.judgedAt === 'whole-picture') return [makeFinding(tolerance, quantity, null, viewing)];
    return SEATS.map((seat) => makeFinding(tolerance, angleAtSeat(quantity, viewing.distance_ih[seat]), seat, viewing));
  });
}

/** The verdict for a signed value; a limit for negative values may differ. */
export function judgeValue({ value, u }: Measured, limit: number, limitBelow: number = limit): Verdict {
  const [low, high] = [value - 2 * u, value + 2 * u];
  if (low >= -limitBelow && high <= limit) return 'within';
  if (low > limit || high < -limitBelow) return 'outside';
  return 'undecided';
}

/** The judged quantity: in ih where a seat turns it into an angle, otherwise in the tolerance's unit. */
function quantityOf(
  tolerance: Tolerance,
  { terms, worstVertical }: Misalignment,
  eyes: Eyes | undefined,
  aspect: number,
): Measured | undefined {
  switch (tolerance.code) {
    case 'vertical-offset':
      return terms.verticalOffset;
    case 'worst-vertical':
      return worstVertical;
    case 'rotation':
      return scaleMeasured(terms.rotation, tolerance.unit === 'deg' ? 180 / Math.PI : aspect / 2);
    case 'horizontal-offset':
      return terms.horizontalOffset;
    case 'size':
      return scaleMeasured(terms.size, 100);
    case 'crosstalk-left':
      return eyes && scaleMeasured(ghostThrough('left', eyes), 100);
    default:
      return eyes && scaleMeasured(ghostThrough('right', eyes), 100);
  }
}

/**
 * The ghost that is left once each eye has its own picture. While the eyes are swapped the crosstalk as defined is the
 * wanted picture over the ghost, some thousands of percent; that fault has its own finding, so the leak is judged here.
 */
function ghostThrough(lens: Eye, eyes: Eyes): Measured {
  if (eyes.assignment === 'swapped') return lens === 'left' ? eyes.leakLeftLens : eyes.leakRightLens;
  return lens === 'left' ? eyes.crosstalkLeft : eyes.crosstalkRight;
}

function judgeAssignment(tolerance: Tolerance, eyes: Eyes): Finding[] {
  if (tolerance.code === 'eyes-exchanged') {
    const worse = eyes.crosstalkLeft.value > eyes.crosstalkRight.value ? eyes.crosstalkLeft : eyes.crosstalkRight;
    const verdict = ({ correct: 'within', swapped: 'outside', undetermined: 'undecided' } as const)[eyes.assignment];
    return [{ ...makeFinding(tolerance, scaleMeasured(worse, 100), null), verdict }];
  }
  // Both lenses must leak: one that leaks alone has a fault of its own, and the other still polarizes.
  const less = eyes.leakLeftLens.value < eyes.leakRightLens.value ? eyes.leakLeftLens : eyes.leakRightLens;
  const finding = makeFinding(tolerance, scaleMeasured(less, 100), null);
  return finding.verdict === 'within' ? [] : [finding];
}

/** A ghost that is not alike over the picture: the mean of all marks may well be within its limit. */
function judgeLocalGhost(tolerance: Tolerance, survey: CrosstalkSurvey | undefined): Finding[] {
  return survey && survey.shape !== 'even' ? [makeFinding(tolerance, scaleMeasured(survey.strongest, 100), null)] : [];
}

function makeFinding(tolerance: Tolerance, measured: Measured, seat: Seat | null, viewing?: Viewing): Finding {
  const { code, level, unit, limit, below } = tolerance;
  const side = below !== undefined && measured.value < 0 ? below : tolerance;
  return {
    code,
    level,
    seat,
    verdict: judgeValue(measured, limit, below?.limit),
    value: measured.value,
    u: measured.u,
    limit: side.limit,
    unit,
    source: side.source,
    basis: side.basis,
    confirmed: side.basis !== 'from-memory',
    seatAssumed: seat !== null && viewing?.assumed === true,
  };
}

function scaleMeasured({ value, u }: Measured, factor: number): Measured {
  return { value: value * factor, u: u * factor };
}
