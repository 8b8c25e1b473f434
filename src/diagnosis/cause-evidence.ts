/**
 * The figures that speak for a cause, and the findings that it explains.
 *
 * An angle is given apart from the floor where the other lens shows the floor; where both lenses leak alike the two
 * cannot be told apart, and what is given is the most that the angle can be: phi = atan(sqrt(leak)).
 */
import { type Eye, otherEye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import { explainLeaks, type LeakCause } from '../light/explain-leaks.ts';
import type { Eyes } from '../light/eyes.ts';
import type { CrosstalkSurvey } from '../light/survey-crosstalk.ts';
import type { ShapeRow } from './cause-row.ts';
import { predictHalfFrameOffset } from '../geometry/film-frame.ts';
import type { JudgedReading, SeenStray } from '../limits/judge.ts';
import type { FindingCode } from '../limits/tolerances.ts';
import type { Fault } from './forecast-light.ts';

/** One figure or word behind a cause; the unit stands in the name: `leak_left_lens_pct`. */
export interface EvidenceItem {
  readonly name: string;
  readonly value: number | string;
  readonly u?: number;
}

export type DiagnosedReading = JudgedReading & { readonly upperPortShows: Eye };

/** One that tells of the light: somebody looked through the glasses. */
export type ReadingWithEyes = DiagnosedReading & { readonly eyes: Eyes };

/** The lens through which a fault of one eye's picture or lens leaks. */
function leakingLens({ row, eye }: Fault, eyes: Eyes): Eye | undefined {
  if (eye === undefined) return undefined;
  if (row.changes.some(({ change }) => change.what === 'lens-turned')) return eye;
  return eyes.assignment === 'swapped' ? eye : otherEye(eye);
}

export function listLightEvidence(fault: Fault, reading: ReadingWithEyes): EvidenceItem[] {
  const { eyes, crosstalkSurvey, misalignment, house, aspect, upperPortShows } = reading;
  const { code, shapes } = fault.row;
  const leaks = [percent('leak_left_lens_pct', eyes.leakLeftLens), percent('leak_right_lens_pct', eyes.leakRightLens)];
  const where =
    crosstalkSurvey && shapes[crosstalkSurvey.shape] >= MIN_SHAPED ? listPlace(crosstalkSurvey, aspect) : [];
  switch (code) {
    case 'half-frame-threading': {
      const predicted = house && predictHalfFrameOffset(house.film, aspect, upperPortShows);
      const would = predicted === undefined ? [] : [{ name: 'half_frame_vertical_offset_pct', value: 100 * predicted }];
      return [percent('vertical_offset_pct', misalignment.terms.verticalOffset), ...would];
    }
    case 'polarizers-exchanged':
    case 'camera-filters-exchanged':
      return [percent('crosstalk_left_pct', eyes.crosstalkLeft), percent('crosstalk_right_pct', eyes.crosstalkRight)];
    case 'projector-polarizer-turned':
      return [...leaks, angleOf(fault, eyes), { name: 'polarizer_of_picture', value: fault.eye! }];
    case 'glasses-lens-turned':
      return [...leaks, angleOf(fault, eyes), { name: 'lens', value: fault.eye! }];
    case 'glasses-tilted':
    case 'both-polarizers-turned':
      return [...leaks, angleOf(fault, eyes)];
    case 'one-path-depolarizes':
      return [...leaks, ...where, { name: 'path_of_picture', value: fault.eye! }];
    default:
      return [...leaks, ...where];
  }
}

/** A cause whose leak lies so less often than this has nothing to do with the place. */
const MIN_SHAPED = 0.05;

/** Where the leak is strongest, by thirds of the picture as seen from the audience; nothing where it is even. */
function listPlace({ shape, strongest: most }: CrosstalkSurvey, aspect: number): EvidenceItem[] {
  if (shape === 'even') return [];
  const upright = most.at.y > 1 / 6 ? 'upper' : most.at.y < -1 / 6 ? 'lower' : '';
  const sideways = most.at.x > aspect / 6 ? 'right' : most.at.x < -aspect / 6 ? 'left' : '';
  const place = [upright, sideways].filter((part) => part !== '').join('-') || 'middle';
  return [percent('leak_where_strongest_pct', most), { name: 'place', value: place }];
}

function angleOf(fault: Fault, eyes: Eyes): EvidenceItem {
  const { leakLeftLens, leakRightLens } = eyes;
  const lens = leakingLens(fault, eyes);
  if (lens === undefined) {
    const mean = (leakLeftLens.value + leakRightLens.value) / 2;
    return atMost({ value: mean, u: Math.hypot(leakLeftLens.u, leakRightLens.u) / 2 });
  }
  const cause: LeakCause =
    fault.row.code === 'glasses-lens-turned' ? `${lens}-lens-turned` : `${otherEye(lens)}-picture-turned`;
  const found = explainLeaks({ left: leakLeftLens, right: leakRightLens }).find((each) => each.cause === cause);
  // Where the other lens leaks more, it does not show the floor.
  if (!found?.angle || !found.isSeparated || found.angle.value_deg === 0)
    return atMost(lens === 'left' ? leakLeftLens : leakRightLens);
  return { name: 'polarizer_angle_deg', value: found.angle.value_deg, u: found.angle.u_deg };
}

function atMost(leak: Measured): EvidenceItem {
  return { name: 'polarizer_angle_at_most_deg', ...angleOfLeak(leak) };
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
export function listShapeEvidence({ code, spread_pct }: ShapeRow, reading: JudgedReading): EvidenceItem[] {
  const { terms } = reading.misalignment;
  const size = [percent('size_pct', terms.size)];
  const bend = [percent('stretch_pct', terms.stretch), percent('shear_pct', terms.shear)];
  const tilt = [percent('keystone_h_pct', terms.keystoneH), percent('keystone_v_pct', terms.keystoneV)];
  if (code === 'path-lengths-differ' && reading.house) {
    const throw_mm = 1000 * reading.house.throw_m;
    return [...size, { name: 'path_difference_mm', value: terms.size.value * throw_mm, u: terms.size.u * throw_mm }];
  }
  if (code === 'mirror-not-flat') return [...size, ...bend];
  if (spread_pct.size !== undefined && spread_pct.size > 0.5) return size;
  return code === 'mirror-strained' ? [...bend, ...tilt] : [...tilt, ...bend];
}

/** Where masking has to reach, in percent of the picture height. */
export function listStrayEvidence({ eye, strength, side, beyond_ih, over_ih }: SeenStray): EvidenceItem[] {
  return [
    percent('stray_strength_pct', strength),
    { name: 'stray_beyond_pct', value: 100 * beyond_ih },
    { name: 'stray_over_pct', value: 100 * over_ih },
    { name: 'stray_side', value: side },
    { name: 'copy_of_picture', value: eye },
  ];
}

/** Findings that a fault of the light can be behind. */
export function explainedByLight(fault: Fault, eyes: Eyes): FindingCode[] {
  const { row } = fault;
  const lens = leakingLens(fault, eyes);
  const changes = new Set(row.changes.map(({ change }) => change.what));
  if (changes.has('exchanged-by-half-frame')) return ['eyes-exchanged', 'vertical-offset'];
  if (changes.has('exchanged')) return ['eyes-exchanged'];
  const isUneven = Math.max(row.shapes.patch, row.shapes.smooth) >= MIN_SHAPED;
  const local: FindingCode[] = isUneven ? ['local-ghost'] : [];
  if (lens) return [`crosstalk-${lens}`, ...local];
  if (changes.has('nothing')) return [];
  return ['no-polarization', 'crosstalk-left', 'crosstalk-right', ...local];
}

export function explainedByShape({ spread_pct }: ShapeRow): FindingCode[] {
  const { size = 0, stretch = 0, keystoneH = 0 } = spread_pct;
  const isBent = Math.max(stretch, keystoneH) > 0.3;
  return [...(size > 0.3 ? (['size'] as const) : []), ...(isBent ? (['worst-vertical'] as const) : [])];
}

function percent(name: string, { value, u }: Measured): EvidenceItem {
  return { name, value: 100 * value, u: 100 * u };
}
