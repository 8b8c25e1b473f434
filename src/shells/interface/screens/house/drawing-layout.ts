/** The lengths of a House, or of a draft of one, that its drawings are made from; null where one is not known yet. */
import { DEFAULT_ASPECT } from '../../../../kernel/aspect.ts';
import { MM_PER_INCH } from '../../../../wording/lengths.ts';
import { type Tree, valueAt } from './house-draft.ts';

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
const USUAL_FILM_WIDTH_MM = 20.95;

export function readLengths(tree: Tree): HouseLengths {
  const at = (path: string) => {
    const value = valueAt(tree, path);
    return typeof value === 'number' && Number.isFinite(value) && value > 0 ? value : null;
  };
  return {
    pictureWidth_m: at('screen.picture_width_m'),
    pictureAspect: at('screen.picture_aspect') ?? DEFAULT_ASPECT,
    throw_m: at('throw_m'),
    nearestRow_m: at('seats.nearest_row_m'),
    referenceSeat_m: at('seats.reference_seat_m'),
    centreToCentre_in: at('film.centre_to_centre_in'),
    filmWidth_mm: at('film.picture_width_mm') ?? USUAL_FILM_WIDTH_MM,
    filmHeight_mm: at('film.picture_height_mm'),
  };
}

/**
 * The house from the side, to scale: screen at the left, seats, projector at the right.
 *
 * Drawing units: `width` across, x to the right, y down. The scale is one for lengths and for the height of the picture;
 * how high things stand above the floor is not known to a House and is only hinted at.
 */

interface SideView {
  readonly width: number;
  readonly height: number;
  /** Drawing units per metre. */
  readonly scale: number;
  readonly floor: number;
  readonly screen: { readonly x: number; readonly top: number; readonly bottom: number } | null;
  readonly projector: { readonly x: number; readonly y: number } | null;
  readonly nearestRow: { readonly x: number; readonly y: number } | null;
  readonly referenceSeat: { readonly x: number; readonly y: number } | null;
  /** Lines with lengths below the floor, from the screen outwards, shortest first. */
  readonly lengths: readonly {
    readonly of: 'nearest' | 'reference' | 'throw';
    readonly length_m: number;
    readonly from: number;
    readonly to: number;
    readonly y: number;
  }[];
}

const WIDTH = 640;
const MARGIN = 34;
/** Room for each line with a length. */
const LINE = 30;
const MIN_HALL = 90;
/** A picture much higher than the hall is long would leave no room for the page; it is then drawn smaller. */
const MAX_HALL = 260;
const EYE_HEIGHT_M = 1.15;
const SCREEN_ABOVE_FLOOR_M = 1;

export function layoutSideView(lengths: HouseLengths): SideView | null {
  const { pictureWidth_m, pictureAspect, throw_m, nearestRow_m, referenceSeat_m } = lengths;
  const farthest = Math.max(throw_m ?? 0, nearestRow_m ?? 0, referenceSeat_m ?? 0);
  if (farthest === 0) return null;
  const pictureHeight_m = pictureWidth_m === null ? null : pictureWidth_m / pictureAspect;
  const hall_m = (pictureHeight_m ?? 3) + SCREEN_ABOVE_FLOOR_M;
  const scale = Math.min((WIDTH - 2 * MARGIN) / farthest, MAX_HALL / hall_m);
  const floor = 14 + Math.max(MIN_HALL, hall_m * scale);
  const across = (metres: number) => MARGIN + metres * scale;
  const up = (metres: number) => floor - metres * scale;
  const top = up(hall_m);
  const bottom = up(SCREEN_ABOVE_FLOOR_M);
  const drawn = (
    [
      ['nearest', nearestRow_m],
      ['reference', referenceSeat_m],
      ['throw', throw_m],
    ] as const
  ).flatMap(([of, length_m]) => (length_m === null ? [] : [{ of, length_m }]));
  const seat = (metres: number | null) =>
    metres === null ? null : { x: across(metres), y: Math.min(up(EYE_HEIGHT_M), floor - 12) };
  return {
    width: WIDTH,
    height: floor + 10 + LINE * drawn.length,
    scale,
    floor,
    screen: pictureHeight_m === null ? null : { x: across(0), top, bottom },
    projector: throw_m === null ? null : { x: across(throw_m), y: top + (bottom - top) * 0.3 },
    nearestRow: seat(nearestRow_m),
    referenceSeat: seat(referenceSeat_m),
    lengths: drawn.map((each, i) => ({
      ...each,
      from: across(0),
      to: across(each.length_m),
      y: floor + 10 + LINE * (i + 0.6),
    })),
  };
}

/**
 * One four-perforation frame of the film with both pictures, in millimetres; x to the right, y down from the frame's top.
 *
 *   septum     = centre-to-centre distance - height of one picture
 *   frame line = frame height - centre-to-centre distance - height of one picture
 *
 * Perforation pitch 4.750 mm (SMPTE ST 119:2011), film width 34.975 mm (SMPTE 102-2002), middle of the projected area
 * 18.735 mm from the reference edge (ISO 2907:2002).
 */

const PITCH_MM = 4.75;
const PERFORATIONS = 4;
const FILM_WIDTH_MM = 34.975;
const PICTURE_CENTRE_MM = (8.23 + 29.24) / 2;

interface FilmDrawing {
  readonly width_mm: number;
  readonly frameHeight_mm: number;
  readonly pictures: readonly {
    readonly place: 'upper' | 'lower';
    readonly x_mm: number;
    readonly y_mm: number;
    readonly width_mm: number;
    readonly height_mm: number;
  }[];
  readonly perforations_y_mm: readonly number[];
  readonly septum_mm: number;
  readonly frameLine_mm: number;
  /** Septum or frame line would be less than nothing: the pictures lie on each other. */
  readonly isOverlapping: boolean;
}

export function layoutFilm(lengths: HouseLengths): FilmDrawing | null {
  const { centreToCentre_in, filmWidth_mm, filmHeight_mm, pictureAspect } = lengths;
  if (centreToCentre_in === null) return null;
  const distance_mm = centreToCentre_in * MM_PER_INCH;
  const height_mm = filmHeight_mm ?? filmWidth_mm / pictureAspect;
  const frameHeight_mm = PERFORATIONS * PITCH_MM;
  const septum_mm = distance_mm - height_mm;
  const frameLine_mm = frameHeight_mm - distance_mm - height_mm;
  const picture = (place: 'upper' | 'lower') => ({
    place,
    x_mm: PICTURE_CENTRE_MM - filmWidth_mm / 2,
    y_mm: frameHeight_mm / 2 + ((place === 'upper' ? -1 : 1) * distance_mm) / 2 - height_mm / 2,
    width_mm: filmWidth_mm,
    height_mm,
  });
  return {
    width_mm: FILM_WIDTH_MM,
    frameHeight_mm,
    pictures: [picture('upper'), picture('lower')],
    perforations_y_mm: Array.from({ length: PERFORATIONS }, (_, i) => (i + 0.5) * PITCH_MM),
    septum_mm,
    frameLine_mm,
    isOverlapping: septum_mm < 0 || frameLine_mm < 0,
  };
}
