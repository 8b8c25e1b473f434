/**
 * What a set of photographs shows of its house beside the misalignment, and how it enters the House.
 *
 * Film: photographs of one kind show the same pictures in other places. Their scatter s is that of film and camera; of
 * N frames averaged, jump shows as s_y = m / sqrt(N) and weave as s_x = m, so that
 *
 *   m^2 = (N s_y^2 + s_x^2) / 2,   nu = 2 sum (n - 1),   u(m) = m / sqrt(2 nu)
 *
 * Glasses: the picture that a lens shows, against the same picture without glasses, has moved by what the lens does to
 * the view, give or take the film: u^2 = s^2 (1 / n_bare + 1 / n_lens) in each direction. A shift on the screen is an
 * angle at the reference seat, where the camera stands.
 *
 * Several findings join: variances by their degrees of freedom, effects by their weights 1 / u^2. Units: ih and radians
 * within, micrometres on the film, arcminutes and degrees in the record. References: JCGM 100 (GUM), 4.2, 4.3 and E.4.3.
 */
import { type FilmMotion, framesOfExposure } from '../../geometry/budget-priors.ts';
import { estimateMovement, type Movement } from '../../geometry/estimate-movement.ts';
import type { ChartDisplacement } from '../../geometry/movement-process.ts';
import {
  arcminutesFromOffset,
  degreesFromRadians,
  offsetFromArcminutes,
  radiansFromDegrees,
} from '../../kernel/angles.ts';
import { EYES, type Eye } from '../../kernel/eye.ts';
import { projectDerivative, type View } from '../../kernel/view.ts';
import { describeViewing } from '../../limits/viewing.ts';
import type { House } from '../../record/house.ts';
import type { HouseFindings, LensEffect } from '../../record/house-findings.ts';
import type { PhotographRole } from '../../record/roles.ts';
import type { ExaminedPhotograph } from '../shot/examine-shot.ts';
import { strongerEye } from '../shot/judge-shot.ts';
import { choosePriors, filmHeight_mm } from './choose-priors.ts';

type Glasses = NonNullable<House['glasses']>;

/** Nothing is known beforehand of what lies between two photographs. */
const OPEN = { film: [0.05, 0.05, 0.05], view: [0, 0, 0, 0.05, 0, 0] } as const;
/** Marks that two photographs must share before one is placed against the other. */
const MARKS_ENOUGH = 12;
/** Repeats beyond the first ones, in each direction: fewer say too little. */
const REPEATS_ENOUGH = 2;
const MICROMETRES_PER_MM = 1000;

interface Place {
  readonly role: PhotographRole;
  readonly frames: number;
  /** Against the first photograph that stands for all, ih and radians. */
  readonly up: number;
  readonly right: number;
  readonly turn: number;
}

/**
 * Undefined where nothing is to be learned from these photographs.
 *
 * @param views how the first photographs show each eye's picture.
 */
export function learnHouse(
  photographs: readonly ExaminedPhotograph[],
  views: Readonly<Record<Eye, View>>,
  house: House | undefined,
  aspect: number,
): HouseFindings | undefined {
  const bare = photographs.filter(({ role }) => role === 'bare');
  const placed = [...placesOf(bare, bare[0], views)];
  for (const role of ['left-lens', 'right-lens'] as const) {
    const through = photographs.filter((photograph) => photograph.role === role);
    placed.push(...placesOf(through, bare[0] ?? through[0], views));
  }
  const film = scatterOf(placed, filmHeight_mm(house, aspect));
  const glasses = bare.length > 0 ? effectsOf(placed, film, house, aspect) : undefined;
  return film || glasses ? { film: film ?? null, glasses: glasses ?? null } : undefined;
}

function placesOf(
  photographs: readonly ExaminedPhotograph[],
  reference: ExaminedPhotograph | undefined,
  views: Readonly<Record<Eye, View>>,
): Place[] {
  return photographs.flatMap((photograph): Place[] => {
    const { role, shot, photo } = photograph;
    const eyes = role === 'bare' ? EYES : [strongerEye(shot)];
    const displacements = eyes.flatMap((eye) => displacementsBetween(reference!, photograph, eye, views[eye]));
    if (displacements.length < MARKS_ENOUGH) return [];
    const { verticalOffset: up, horizontalOffset: right, rotation: turn } = estimateMovement(displacements, OPEN).terms;
    return [{ role, frames: framesOfExposure(photo.camera.exposureTime_s), up, right, turn }];
  });
}

function displacementsBetween(
  first: ExaminedPhotograph,
  second: ExaminedPhotograph,
  eye: Eye,
  view: View,
): ChartDisplacement[] {
  const before = new Map(first.shot.marks[eye].map((seen) => [seen.mark.id, seen]));
  return second.shot.marks[eye].flatMap(({ mark, centre, covariance }): ChartDisplacement[] => {
    const was = before.get(mark.id);
    if (!was) return [];
    return [
      {
        at: was.centre,
        chart: mark,
        shift: { x: centre.x - was.centre.x, y: centre.y - was.centre.y },
        u: { x: Math.sqrt(covariance[0] + was.covariance[0]), y: Math.sqrt(covariance[2] + was.covariance[2]) },
        slope: projectDerivative(view, mark),
      },
    ];
  });
}

function scatterOf(places: readonly Place[], height_mm: number): HouseFindings['film'] | undefined {
  let [sum, repeats, photographs] = [0, 0, 0];
  for (const role of new Set(places.map((place) => place.role))) {
    const group = places.filter((place) => place.role === role);
    if (group.length < 2) continue;
    const [up, right] = [centreOf(group, 'up'), centreOf(group, 'right')];
    for (const place of group) sum += place.frames * (place.up - up) ** 2 + (place.right - right) ** 2;
    repeats += group.length - 1;
    photographs += group.length;
  }
  if (repeats < REPEATS_ENOUGH) return undefined;
  const degrees_of_freedom = 2 * repeats;
  const value = Math.sqrt(sum / degrees_of_freedom) * height_mm * MICROMETRES_PER_MM;
  return { motion_um: { value, u: value / Math.sqrt(2 * degrees_of_freedom) }, degrees_of_freedom, photographs };
}

function centreOf(places: readonly Place[], direction: 'up' | 'right' | 'turn'): number {
  return places.reduce((sum, place) => sum + place[direction], 0) / places.length;
}

function effectsOf(
  places: readonly Place[],
  film: HouseFindings['film'] | undefined,
  house: House | undefined,
  aspect: number,
): HouseFindings['glasses'] | undefined {
  const bare = places.filter(({ role }) => role === 'bare');
  const known = choosePriors(house, aspect, { left: {}, right: {} }).film;
  const seen = film ? film.motion_um.value / MICROMETRES_PER_MM / filmHeight_mm(house, aspect) : known?.jump.u;
  const distance_ih = describeViewing(house, aspect).distance_ih['reference-seat'];
  const effectOf = (lens: Eye): LensEffect | undefined => {
    const through = places.filter(({ role }) => role === `${lens}-lens`);
    if (bare.length === 0 || through.length === 0) return undefined;
    const moved = (direction: 'up' | 'right' | 'turn') => centreOf(through, direction) - centreOf(bare, direction);
    // Weave does not average within an exposure; it is what is left of both directions.
    const shared = Math.sqrt(1 / bare.length + 1 / through.length);
    const u_ih = (seen ?? 0) * shared;
    const u_turn = turnOf(known, seen) * shared;
    return {
      right_arcmin: arcminutesFromOffset(moved('right'), distance_ih),
      up_arcmin: arcminutesFromOffset(moved('up'), distance_ih),
      u_arcmin: arcminutesFromOffset(u_ih, distance_ih),
      turn_deg: degreesFromRadians(moved('turn')),
      u_turn_deg: degreesFromRadians(u_turn),
    };
  };
  const [left, right] = [effectOf('left'), effectOf('right')];
  return left && right ? { left, right } : undefined;
}

/** The film turns as it shifts. */
function turnOf(known: FilmMotion | undefined, seen: number | undefined): number {
  return known && known.jump.u > 0 ? known.turn.u * ((seen ?? known.jump.u) / known.jump.u) : 0;
}

/** The house with all of it, joined with what it had learned before. What somebody stated of the film is replaced. */
export function takeIntoHouse(house: House, findings: readonly HouseFindings[]): House {
  const film = joinFilm(house, findings);
  const glasses = joinGlasses(house.glasses, findings);
  return { ...house, ...(film && { film: { ...house.film, ...film } }), ...(glasses && { glasses }) };
}

/** The same for the work at hand: what the house states stays, and only what was assumed is replaced. */
export function assumeFromFindings(house: House, findings: readonly HouseFindings[]): House {
  const { film, glasses } = takeIntoHouse(house, findings);
  const isStated = house.film.motion_um !== undefined && house.film.motion_degrees_of_freedom === undefined;
  return { ...house, film: isStated ? house.film : film, ...(glasses && { glasses }) };
}

function joinFilm(
  { film: { motion_um, motion_degrees_of_freedom } }: House,
  findings: readonly HouseFindings[],
): Pick<House['film'], 'motion_um' | 'motion_degrees_of_freedom'> | undefined {
  const series = findings.flatMap(({ film }) =>
    film ? [{ motion: film.motion_um.value, degrees: film.degrees_of_freedom }] : [],
  );
  if (series.length === 0) return undefined;
  if (motion_um !== undefined && motion_degrees_of_freedom !== undefined)
    series.push({ motion: motion_um, degrees: motion_degrees_of_freedom });
  const degrees = series.reduce((sum, one) => sum + one.degrees, 0);
  const variance = series.reduce((sum, one) => sum + one.degrees * one.motion ** 2, 0) / degrees;
  return { motion_um: toFigures(Math.sqrt(variance)), motion_degrees_of_freedom: degrees };
}

function joinGlasses(known: Glasses | undefined, findings: readonly HouseFindings[]): Glasses | undefined {
  const found = findings.flatMap(({ glasses }) => (glasses ? [glasses] : []));
  if (found.length === 0) return undefined;
  const join = (lens: Eye) => joinEffects([...(known?.[lens] ? [known[lens]] : []), ...found.map((one) => one[lens])]);
  return { ...known, left: join('left'), right: join('right') };
}

function joinEffects(effects: readonly LensEffect[]): LensEffect {
  const mean = (of: (effect: LensEffect) => number, u: (effect: LensEffect) => number) => {
    const weights = effects.map((effect) => Math.max(1e-6, u(effect)) ** -2);
    const sum = weights.reduce((a, b) => a + b);
    return {
      value: toFigures(effects.reduce((a, e, i) => a + weights[i]! * of(e), 0) / sum),
      u: toFigures(sum ** -0.5),
    };
  };
  const shift = (of: (effect: LensEffect) => number) => mean(of, ({ u_arcmin }) => u_arcmin);
  const turn = mean(
    ({ turn_deg }) => turn_deg,
    ({ u_turn_deg }) => u_turn_deg,
  );
  const [right, up] = [shift(({ right_arcmin }) => right_arcmin), shift(({ up_arcmin }) => up_arcmin)];
  return {
    right_arcmin: right.value,
    up_arcmin: up.value,
    u_arcmin: right.u,
    turn_deg: turn.value,
    u_turn_deg: turn.u,
  };
}

/** Four figures are more than any of it is known to. */
function toFigures(value: number): number {
  return Number(value.toPrecision(4));
}

/** How a pair through known lenses is moved by them: the second photograph against the first, ih and radians. */
export function movementByGlasses(
  house: House | undefined,
  aspect: number,
): { readonly terms: Movement['terms']; readonly u_ih: number; readonly u_turn: number } | undefined {
  const { left, right } = house?.glasses ?? {};
  if (!left || !right) return undefined;
  const distance_ih = describeViewing(house, aspect).distance_ih['reference-seat'];
  const between = (of: (effect: LensEffect) => number) => offsetFromArcminutes(of(right) - of(left), distance_ih);
  return {
    // What is not known of it stands in the budget as the wedge of the glasses.
    terms: {
      verticalOffset: between(({ up_arcmin }) => up_arcmin),
      horizontalOffset: between(({ right_arcmin }) => right_arcmin),
      rotation: radiansFromDegrees(right.turn_deg - left.turn_deg),
      size: 0,
    },
    u_ih: offsetFromArcminutes(Math.hypot(left.u_arcmin, right.u_arcmin), distance_ih) / Math.SQRT2,
    u_turn: radiansFromDegrees(Math.hypot(left.u_turn_deg, right.u_turn_deg)),
  };
}
