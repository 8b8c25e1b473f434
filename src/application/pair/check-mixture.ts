/**
 * Whether photographs belong together: of one state of the machine, from one place, with one zoom.
 *
 * Where photographs were taken with and without glasses, each pair of pictures is placed at five points of the target, in
 * picture heights as its photographs show them:
 *
 *   apart = max over c of | (p_R(c) - p_L(c)) / S - (q_R(c) - q_L(c)) / T |
 *
 * p from the photographs through the lenses and q from the one without; S, T px per picture height. A camera that stands
 * elsewhere changes it in second order only. The limit is what film can do (judge-movement.ts) and, three standard
 * uncertainties far, the wedges of the glasses as the house states them or as they are assumed; what the house knows of its
 * glasses on top.
 */
import { EYES, type Eye } from '../../kernel/eye.ts';
import type { Point } from '../../kernel/point.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { pixelsPerHeight, project, type View } from '../../kernel/view.ts';
import type { House } from '../../record/house.ts';
import type { ExaminedPhotograph } from '../shot/examine-shot.ts';
import type { ComparedLenses } from './compare-lenses.ts';
import { choosePriors } from './choose-priors.ts';
import { MAX_FILM_MOVEMENT_IH } from './judge-movement.ts';
import { movementByGlasses } from './learn-house.ts';
import type { PictureRelation } from './relate-pictures.ts';

/** The pictures of the photographs through the lenses against those of the one without glasses, picture heights. */
export interface PairCheck {
  readonly apart_ih: number;
  readonly limit_ih: number;
}

/** Standard uncertainties of the glasses. */
const UNUSUAL = 3;

/** Undefined where there are not both kinds of photographs. */
export function checkPair(
  { from, views: bare }: PictureRelation,
  compared: ComparedLenses | undefined,
  aspect: number,
  house: House | undefined,
): PairCheck | undefined {
  if (from !== 'one-exposure' || !compared) return undefined;
  const { views: pair } = compared;
  const { left, right } = compared.photographs;
  const { wedge } = choosePriors(house, aspect, { left: left.photo.camera, right: right.photo.camera });
  const wedges = UNUSUAL * Math.SQRT2 * (wedge?.u ?? 0);
  const places = [{ x: 0, y: 0 }, ...[-0.4, 0.4].flatMap((x) => [-0.4, 0.4].map((y) => ({ x: x * aspect, y })))];
  const apart = places.map((at) => {
    const [one, other] = [betweenPictures(pair, at), betweenPictures(bare, at)];
    return Math.hypot(one.x - other.x, one.y - other.y);
  });
  const glasses = movementByGlasses(house, aspect)?.terms;
  const known = glasses ? Math.hypot(glasses.verticalOffset, glasses.horizontalOffset) : 0;
  return { apart_ih: Math.max(...apart), limit_ih: Math.hypot(MAX_FILM_MOVEMENT_IH, wedges) + known };
}

function betweenPictures(views: Readonly<Record<Eye, View>>, at: Point): Point {
  const [left, right] = [project(views.left, at), project(views.right, at)];
  const perIh_px = pixelsPerHeight(views.left);
  return { x: (right.x - left.x) / perIh_px, y: (right.y - left.y) / perIh_px };
}

/** Differences in shape that two photographs from one place can show: five times what an attachment does at its worst. */
const MAX_SHAPE = { size: 0.03, others: 0.01 } as const;
/** Cameras round their focal length. */
const SAME_ZOOM = 0.02;

/** Photographs through the lenses that were taken from two places, or with two zooms: what is between them is no misalignment. */
export function judgePlaces(
  { from, misalignment: { terms } }: PictureRelation,
  photographs: readonly ExaminedPhotograph[],
): Refusal<'places-differ'> | undefined {
  if (from !== 'two-exposures') return undefined;
  const others = [terms.stretch, terms.shear, terms.keystoneH, terms.keystoneV].map(({ value }) => Math.abs(value));
  const zoom = zoomsOf(photographs.filter(({ role }) => role !== 'closing'));
  const isAlike = Math.abs(terms.size.value) < MAX_SHAPE.size && Math.max(...others) < MAX_SHAPE.others && !zoom;
  return isAlike
    ? undefined
    : refuse('places-differ', { size_pct: 100 * terms.size.value, shape_pct: 100 * Math.max(...others), ...zoom });
}

/** Of photographs whose cameras wrote different focal lengths; undefined where they are alike, or not known. */
export function zoomsOf(
  photographs: readonly ExaminedPhotograph[],
): { readonly first_mm: number; readonly other_mm: number } | undefined {
  const known = photographs.flatMap(({ photo }) => photo.camera.focalLength_mm ?? []);
  const [first_mm] = known;
  const other_mm = known.find((mm) => Math.abs(mm / first_mm! - 1) > SAME_ZOOM);
  return first_mm === undefined || other_mm === undefined ? undefined : { first_mm, other_mm };
}

/** A lens that lets both pictures through almost alike, or no lens at all: a photograph without glasses in its place. */
const ALIKE = 0.6;

export function lensesShowingBoth({ eyes }: ComparedLenses): Eye[] {
  const leak = { left: eyes.leakLeftLens, right: eyes.leakRightLens };
  return EYES.filter((lens) => leak[lens].value > ALIKE);
}

/** Both pictures of one exposure move alike: repeats that scatter by more than this show two states of the machine. */
const MAX_SCATTER_IH = 2e-4;

/** Scatter of the vertical offset among repeated photographs without glasses, ih, where film does not explain it. */
export function unlikelyScatter({ from, budget }: PictureRelation): number | undefined {
  const repeats = budget.terms.verticalOffset.lines.find(({ component }) => component === 'repeats');
  return from === 'one-exposure' && repeats && repeats.u > MAX_SCATTER_IH ? repeats.u : undefined;
}
