/** The lengths of a House, or of a draft of one, that its drawings are made from; null where one is not known yet. */
import { type Tree, valueAt } from '../draft.ts';

export interface HouseLengths {
  readonly pictureWidth_m: number | null;
  readonly pictureAspect: number;
  readonly throw_m: number | null;
  readonly nearestRow_m: number | null;
  readonly referenceSeat_m: number | null;
  readonly centreToCentre_in: number | null;
  readonly filmWidth_mm: number;
  /** Null: follows from width and aspect. */
  readonly filmHeight_mm: number | null;
}

/** Stand in where a field is left empty, as in the schema. */
const USUAL_ASPECT = 2.35;
const USUAL_FILM_WIDTH_MM = 20.95;

export function readLengths(tree: Tree): HouseLengths {
  const at = (path: string) => {
    const value = valueAt(tree, path);
    return typeof value === 'number' && Number.isFinite(value) && value > 0 ? value : null;
  };
  return {
    pictureWidth_m: at('screen.picture_width_m'),
    pictureAspect: at('screen.picture_aspect') ?? USUAL_ASPECT,
    throw_m: at('throw_m'),
    nearestRow_m: at('seats.nearest_row_m'),
    referenceSeat_m: at('seats.reference_seat_m'),
    centreToCentre_in: at('film.centre_to_centre_in'),
    filmWidth_mm: at('film.picture_width_mm') ?? USUAL_FILM_WIDTH_MM,
    filmHeight_mm: at('film.picture_height_mm'),
  };
}
