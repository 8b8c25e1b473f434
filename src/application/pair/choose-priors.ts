/**
 * What no photograph shows, and has to be known beforehand: how far film moves in the gate, how well the target is
 * printed, how far a lens of the glasses bends the view. The house says it, or a default stands for it.
 */
import {
  type BudgetPriors,
  defaultPriors,
  type FilmMotion,
  framesOfExposure,
  type Prior,
} from '../../geometry/budget-priors.ts';
import { radiansFromDegrees } from '../../kernel/angles.ts';
import { describeViewing } from '../../limits/viewing.ts';
import type { CameraFacts } from '../../photo/photo.ts';
import type { House } from '../../record/house.ts';

/** Width of a projected picture on 35 mm film, ISO 2907. */
const PICTURE_WIDTH_MM = 20.95;
/** Bend of the view by the wedge of a lens of the glasses: an assumption of ours, to be measured in each house. */
const WEDGE_ARCMIN = 1;
const MICROMETRES_PER_MM = 1000;
const ARCMIN_PER_DEGREE = 60;
const MM_PER_INCH = 25.4;

/** Of both pictures in one exposure, or of one photograph through each lens, with what their cameras wrote. */
export type Exposures = { readonly both: CameraFacts } | { readonly left: CameraFacts; readonly right: CameraFacts };

/** Height of one picture on the film. */
export function filmHeight_mm(house: House | undefined, aspect: number): number {
  const film = house?.film;
  return film?.picture_height_mm ?? (film?.picture_width_mm ?? PICTURE_WIDTH_MM) / aspect;
}

export function choosePriors(house: House | undefined, aspect: number, exposures: Exposures): BudgetPriors {
  const film = house?.film;
  const height_mm = filmHeight_mm(house, aspect);
  const frames =
    'both' in exposures
      ? { both: framesOfExposure(exposures.both.exposureTime_s) }
      : {
          left: framesOfExposure(exposures.left.exposureTime_s),
          right: framesOfExposure(exposures.right.exposureTime_s),
        };
  const arcmin = house?.glasses?.wedge_arcmin;
  const wedge_rad = radiansFromDegrees((arcmin ?? WEDGE_ARCMIN) / ARCMIN_PER_DEGREE);
  const priors = defaultPriors(
    height_mm,
    frames,
    wedge_rad * describeViewing(house, aspect).distance_ih['reference-seat'],
    film && film.centre_to_centre_in * MM_PER_INCH,
  );
  const stated = (um: number, degreesOfFreedom?: number): Prior => ({
    u: um / MICROMETRES_PER_MM / height_mm,
    source: 'house',
    ...(degreesOfFreedom !== undefined && { degreesOfFreedom }),
  });
  const moves = film?.motion_um === undefined ? undefined : stated(film.motion_um, film.motion_degrees_of_freedom);
  return {
    ...priors,
    ...(film?.print_mark_pct !== undefined && {
      printMark: { ...priors.printMark, u: film.print_mark_pct / 100, source: 'house' },
    }),
    ...(film?.print_eyes_um !== undefined && { printEyes: stated(film.print_eyes_um) }),
    ...(priors.wedge && arcmin !== undefined && { wedge: { ...priors.wedge, source: 'house' } }),
    ...(moves && priors.film && { film: { ...priors.film, ...moving(priors.film, moves) } }),
    ...(moves && priors.sharedFilm && { sharedFilm: { ...priors.sharedFilm, ...moving(priors.sharedFilm, moves) } }),
  };
}

/** The turn grows as the shift does, of which it is a part. */
function moving(
  { jump, turn }: Pick<FilmMotion, 'jump' | 'turn'>,
  stated: Prior,
): Pick<FilmMotion, 'jump' | 'weave' | 'turn'> {
  return { jump: stated, weave: stated, turn: { u: turn.u * (stated.u / jump.u), source: stated.source } };
}
