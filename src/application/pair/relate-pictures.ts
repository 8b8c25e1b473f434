/**
 * How the two pictures lie on each other: from photographs without glasses, which show both in one exposure, or from
 * photographs through each lens.
 *
 * Both pictures of one exposure stand on one film frame, before one camera and behind one filter or none: whatever moves
 * or bends both drops out. Between two exposures film and camera move, and each lens of the glasses shifts the view: a
 * ghost that is strong enough tells by how much, and that is taken out; otherwise it stands in the uncertainty, or in the
 * scatter of photographs that were repeated.
 */

import { type BudgetPriors, movementPrior, type Prior, viewPrior } from '../../geometry/budget-priors.ts';
import {
  estimateMovement,
  type KnownMovement,
  type Movement,
  takeOutMovement,
  viewMovement,
} from '../../geometry/estimate-movement.ts';
import { fitJointViews, type JointFit } from '../../geometry/fit-joint-views.ts';
import { fitViews, type PhotoSize, type SeenMark } from '../../geometry/fit-views.ts';
import { type MeasuredField, measureField } from '../../geometry/measure-field.ts';
import { type Misalignment, TERMS } from '../../geometry/misalignment.ts';
import { budgetMisalignment, type MisalignmentBudget } from '../../geometry/misalignment-budget.ts';
import { EYES, type Eye } from '../../kernel/eye.ts';
import type { Homography } from '../../kernel/homography.ts';
import { elementAt } from '../../kernel/linear-algebra.ts';
import type { Point } from '../../kernel/point.ts';
import type { Refusal } from '../../kernel/refusal.ts';
import type { ChartDisplacement, MovementPrior, SeenPlace } from '../../geometry/movement-process.ts';
import { pixelsPerHeight, projectDerivative, type View } from '../../kernel/view.ts';
import type { House } from '../../record/house.ts';
import type { ShotRole } from '../../record/roles.ts';
import type { MeasuredMark } from '../../vision/measure-marks.ts';
import type { ExaminedPhotograph } from '../shot/examine-shot.ts';
import { strongerEye } from '../shot/judge-shot.ts';
import { choosePriors } from './choose-priors.ts';
import type { ComparedLenses } from './compare-lenses.ts';
import { chartDisplacements } from './judge-movement.ts';
import { movementByGlasses } from './learn-house.ts';
import { type Outlier, type Repeated, repeatBare, repeatLenses, type ShownPicture } from './repeat-photographs.ts';

/** A mark in a photograph, in the order in which the marks went into the fit. */
export interface ObservedMark extends MeasuredMark {
  readonly role: ShotRole;
  readonly eye: Eye;
}

export interface PictureRelation {
  readonly outcome: 'related';
  readonly from: 'one-exposure' | 'two-exposures';
  /** Those of the photographs that stand for all. */
  readonly marks: readonly ObservedMark[];
  /** One, or one through each lens. */
  readonly shown: readonly ExaminedPhotograph[];
  readonly fit: JointFit;
  readonly field: MeasuredField;
  readonly budget: MisalignmentBudget;
  readonly misalignment: Misalignment;
  /** What a ghost told of the movement between two exposures. */
  readonly movement: Movement | undefined;
  /** A photograph that lies apart from its fellows and was left out. */
  readonly outlier: Outlier | undefined;
  /** Each eye's picture as one plane through one camera lens: good for drawing, not for measuring. */
  readonly views: Readonly<Record<Eye, View>>;
}

export type RelationRefusal = Refusal<'too-few-marks' | 'inconsistent-marks' | 'not-converged'>;

export interface RelationFacts {
  readonly house: House | undefined;
  readonly aspect: number;
  /** How the frames of live shots leave the pictures to each other: standard uncertainty, photo px. */
  readonly wander_px?: Point | undefined;
}

/** One set of photographs fitted, before anything is said of what repeats. */
export interface FittedPictures {
  readonly marks: readonly ObservedMark[];
  readonly shown: readonly ExaminedPhotograph[];
  readonly fit: JointFit;
  readonly field: MeasuredField;
}

/** Where each eye's picture stands in the photograph, photo from chart. */
export function homographiesOf({ views }: PictureRelation): Readonly<Record<Eye, Homography>> {
  return { left: views.left.photoFromChart, right: views.right.photoFromChart };
}

/** Undefined where no photograph was taken without glasses. */
export function relateBare(
  photographs: readonly ExaminedPhotograph[],
  facts: RelationFacts,
): PictureRelation | RelationRefusal | undefined {
  const bare = photographs.filter(({ role }) => role === 'bare');
  return bare.length === 0 ? undefined : relateOneExposure(bare, facts);
}

/**
 * From the photographs through the glasses. A photograph whose ghost is strong enough to be found by itself holds both
 * pictures in one exposure; it is used where that says more than the pair does.
 */
export function relatePair(
  photographs: readonly ExaminedPhotograph[],
  compared: ComparedLenses,
  facts: RelationFacts,
): PictureRelation | RelationRefusal {
  const pair = relateTwoExposures(photographs, compared, facts);
  let best = pair;
  for (const eye of EYES) {
    const photograph = compared.photographs[eye];
    if (!photograph.shot.fit.views.left || !photograph.shot.fit.views.right) continue;
    const alone = relateOneExposure([photograph], facts);
    if (alone.outcome === 'related' && (best.outcome === 'refused' || uOf(alone) < uOf(best))) best = alone;
  }
  return best;
}

function relateTwoExposures(
  photographs: readonly ExaminedPhotograph[],
  compared: ComparedLenses,
  { house, aspect, wander_px }: RelationFacts,
): PictureRelation | RelationRefusal {
  const { left, right } = compared.photographs;
  const usual = choosePriors(house, aspect, { left: left.photo.camera, right: right.photo.camera });
  const known = wander_px ? withSeenWeave(usual, wander_px, pixelsPerHeight(compared.views.left)) : usual;
  const displacements = chartDisplacements(compared.observations, compared.views);
  // Where a ghost tells nothing the prior would come back as it went in, and is better shown as what it is.
  const seen = displacements.length > 0 ? movementSeen(displacements, movementPrior(known)) : undefined;
  const glasses = seen ? undefined : movementByGlasses(house, aspect);
  const pair = [showing(left), showing(right)] as const;
  const takenOut = seen ?? (glasses && viewMovement(glasses.terms, placesOf(pair, compared.views)));
  const first = fitPictures(pair, aspect, takenOut && { movement: takenOut, views: compared.views });
  if (first.outcome === 'refused') return first;
  const waves_px = Math.min(MAX_WAVES_PX, SPARE * wavesLeft(first));
  // What lies beyond the terms may be waves that the ghosts are too faint to show.
  const isWavier = seen !== undefined && seen.waves_px < waves_px;
  const movement = isWavier ? movementSeen(displacements, movementPrior(known), waves_px) : seen;
  const again = isWavier ? fitPictures(pair, aspect, movement && { movement, views: compared.views }) : first;
  const fitted = again.outcome === 'fitted' ? again : first;
  const size = left.shot.pixels;
  const alone = movement && conclude(fitted, 'two-exposures', { ...known, movement }, { size, movement });
  const repeated = repeatLenses(photographs.map(showing), pair, aspect, (both) => {
    const again = fitPictures(both, aspect, glasses && takenOut && { movement: takenOut, views: compared.views });
    return again.outcome === 'fitted' ? again.field : undefined;
  });
  if (alone && !repeated.isScatterKnown) return alone;
  // Film and camera move between repeats too: where there are enough of them their scatter tells. The glasses stay.
  const widened = widenFilm(known, compared);
  const told = glasses ? withKnownGlasses(widened, glasses) : widened;
  const priors = repeated.isScatterKnown ? withoutMotion(told) : told;
  const all = conclude(fitted, 'two-exposures', priors, { size, repeated });
  if (!alone || alone.outcome === 'refused' || all.outcome === 'refused') return all;
  return uOf(alone) < uOf(all) ? { ...alone, outlier: all.outlier } : all;
}

const uOf = ({ misalignment }: PictureRelation) => misalignment.terms.verticalOffset.u;

/** What frames of live shots have shown takes the place of what film usually does. */
function withSeenWeave(priors: BudgetPriors, wander_px: Point, perIh_px: number): BudgetPriors {
  if (!priors.film) return priors;
  const seen = (px: number) => ({ u: px / perIh_px / Math.SQRT2, source: 'frames' });
  const film = { ...priors.film, frames: { left: 1, right: 1 }, jump: seen(wander_px.y), weave: seen(wander_px.x) };
  return { ...priors, film };
}

/** A movement that is certain and larger than what is usual (a closing photograph shows it) widens that. */
function widenFilm(priors: BudgetPriors, { movement_ih }: ComparedLenses): BudgetPriors {
  const { film } = priors;
  if (!film) return priors;
  const averaged = 1 / film.frames.left + 1 / film.frames.right;
  const widen = (prior: Prior, times: number): Prior =>
    prior.u * Math.sqrt(times) < movement_ih
      ? { u: movement_ih / Math.sqrt(times), source: 'closing-photograph' }
      : prior;
  return { ...priors, film: { ...film, jump: widen(film.jump, averaged), weave: widen(film.weave, 2) } };
}

/** Prior standard deviations beyond which what a ghost shows is no matter of what is usual, and times as wide it is then. */
const UNUSUAL = 3;
const UNUSUALLY_WIDE = 30;
/** Glasses that are wavier than this are no glasses to look through. */
const MAX_WAVES_PX = 0.4;

/**
 * A movement that is unlike what film does (a zoom, a thick wedge) is believed as it is seen, as one of the view, and not
 * drawn towards what is usual. By so much as the view was shifted a camera that turned has bent it, too.
 */
function movementSeen(
  displacements: readonly ChartDisplacement[],
  { film, view }: MovementPrior,
  leastWaves_px?: number,
): Movement {
  const usual = [0, 1, 2, 3].map((i) => Math.hypot(film[i] ?? 0, view[i]!));
  const open = usual.map((u) => UNUSUALLY_WIDE * u) as unknown as [number, number, number, number];
  const { terms } = estimateMovement(displacements, { film: [0, 0, 0], view: [...open, 0, 0] });
  const found = [terms.verticalOffset, terms.horizontalOffset, terms.rotation, terms.size].map(Math.abs);
  const believed = found.map((value, i) => (value > UNUSUAL * usual[i]! ? UNUSUALLY_WIDE * usual[i]! : view[i]!));
  const [, , , , keyH, keyV] = viewPrior(found[0]!, found[1]!, 0, 0);
  return estimateMovement(displacements, {
    film,
    view: [believed[0]!, believed[1]!, believed[2]!, believed[3]!, keyH, keyV],
    waves_px: MAX_WAVES_PX,
    leastWaves_px,
  });
}

/** Waves are larger than the part of them that no eight terms hold. */
const SPARE = 2;

function wavesLeft({ fit, field }: FittedPictures): number {
  const [xx, xy, yx, yy] = fit.marks[0]!.slope;
  const perIh_px = Math.sqrt(Math.abs(xx * yy - xy * yx));
  return Math.hypot(field.beyondTerms * perIh_px, fit.sharedErrors?.u_px ?? 0);
}

/** What was learned of the lenses of the glasses takes the place of what may be assumed of them. */
function withKnownGlasses(
  priors: BudgetPriors,
  { u_ih, u_turn }: NonNullable<ReturnType<typeof movementByGlasses>>,
): BudgetPriors {
  const { film } = priors;
  const wedge = { u: u_ih, source: 'house' };
  if (!film) return { ...priors, wedge };
  // That of the film is averaged over the frames of both exposures, that of the glasses is not.
  const averaged = 1 / film.frames.left + 1 / film.frames.right;
  const turn = { ...film.turn, u: Math.hypot(film.turn.u, u_turn / Math.sqrt(averaged)) };
  return { ...priors, wedge, film: { ...film, turn } };
}

function withoutMotion({ film: _, ...priors }: BudgetPriors): BudgetPriors {
  return priors;
}

function relateOneExposure(
  photographs: readonly ExaminedPhotograph[],
  { house, aspect }: RelationFacts,
): PictureRelation | RelationRefusal {
  const fits: FittedPictures[] = [];
  for (const photograph of photographs) {
    const fitted = fitPictures(
      [
        { photograph, eye: 'left' },
        { photograph, eye: 'right' },
      ],
      aspect,
    );
    if (fitted.outcome === 'refused') return fitted;
    fits.push(fitted);
  }
  const priors = photographs.map(({ photo }) => choosePriors(house, aspect, { both: photo.camera }));
  const figures = fits.map(({ fit, field }, i) => ({ field, budget: budgetMisalignment(fit, field, priors[i]!) }));
  const repeated = repeatBare(figures, photographs, aspect);
  const i = repeated.representative;
  return conclude(fits[i]!, 'one-exposure', priors[i]!, { size: photographs[i]!.shot.pixels, repeated });
}

/** Both pictures in one photograph, or each in its own; with what moved between the two taken out. */
function fitPictures(
  pictures: readonly ShownPicture[],
  aspect: number,
  takenOut?: { readonly movement: KnownMovement; readonly views: Readonly<Record<Eye, View>> },
): (FittedPictures & { readonly outcome: 'fitted' }) | RelationRefusal {
  const marks = pictures.flatMap(observedIn);
  const seen = marks.map(seenMark);
  const still = takenOut
    ? takeOutMovement(
        seen.map((mark) => ({ ...mark, slope: projectDerivative(takenOut.views[mark.eye], mark.at) })),
        takenOut.movement,
        pictures[1]!.eye,
      )
    : seen;
  const fit = fitJointViews(still, pictures[0]!.photograph.shot.pixels, aspect);
  if (fit.outcome === 'refused') return fit;
  const shown = [...new Set(pictures.map(({ photograph }) => photograph))];
  return { outcome: 'fitted', marks, shown, fit, field: measureField(fit) };
}

interface Circumstances {
  readonly size: PhotoSize;
  readonly repeated?: Repeated | undefined;
  readonly movement?: Movement | undefined;
}

function conclude(
  { marks, shown, fit, field: alone }: FittedPictures,
  from: PictureRelation['from'],
  priors: BudgetPriors,
  { size, repeated, movement }: Circumstances,
): PictureRelation | RelationRefusal {
  const views = planeViews(marks.map(seenMark), size);
  if (!views) return { outcome: 'refused', code: 'too-few-marks', facts: {} };
  const own = budgetMisalignment(fit, alone, priors);
  const { field, budget } = repeated ? repeated.combine(alone, own) : { field: alone, budget: own };
  const misalignment = {
    terms: Object.fromEntries(
      TERMS.map((term) => [term, { value: field.terms[term].value, u: budget.terms[term].u }]),
    ) as Misalignment['terms'],
    covariance: TERMS.map((_, r) => TERMS.map((__, c) => elementAt(budget.covariance, r, c))),
    worstVertical: { ...field.worstVertical, u: budget.worstVertical.u },
  };
  const outlier = repeated?.outlier;
  return { outcome: 'related', from, marks, shown, fit, field, budget, misalignment, movement, outlier, views };
}

function placesOf(pictures: readonly ShownPicture[], views: Readonly<Record<Eye, View>>): SeenPlace[] {
  return pictures
    .flatMap(observedIn)
    .map(({ eye, mark, centre }) => ({ at: centre, chart: mark, slope: projectDerivative(views[eye], mark) }));
}

/** The picture that a photograph through the glasses shows. */
function showing(photograph: ExaminedPhotograph): ShownPicture {
  return { photograph, eye: strongerEye(photograph.shot) };
}

function observedIn({ photograph: { role, shot }, eye }: ShownPicture): ObservedMark[] {
  return role === 'closing' ? [] : shot.marks[eye].map((measured) => ({ ...measured, role, eye }));
}

function seenMark({ eye, mark, centre, covariance }: ObservedMark): SeenMark {
  return { eye, at: mark, seen: centre, covariance };
}

function planeViews(seen: readonly SeenMark[], size: PhotoSize): Readonly<Record<Eye, View>> | undefined {
  const fit = fitViews(seen, size);
  if (fit.outcome === 'refused') return undefined;
  const { left, right } = fit.views;
  return left && right ? { left, right } : undefined;
}
