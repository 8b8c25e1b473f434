/**
 * One four-perforation frame of the film with both pictures, in millimetres; x to the right, y down from the frame's top.
 *
 *   septum     = centre-to-centre distance - height of one picture
 *   frame line = frame height - centre-to-centre distance - height of one picture
 *
 * Perforation pitch 4.750 mm (SMPTE ST 119:2011), film width 34.975 mm (SMPTE 102-2002), middle of the projected area
 * 18.735 mm from the reference edge (ISO 2907:2002).
 */
import { MM_PER_INCH } from '../../../lengths.ts';
import type { HouseLengths } from './read-lengths.ts';

const PITCH_MM = 4.75;
const PERFORATIONS = 4;
const FILM_WIDTH_MM = 34.975;
const PICTURE_CENTRE_MM = (8.23 + 29.24) / 2;

export interface FilmDrawing {
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

export function layOutFilm(lengths: HouseLengths): FilmDrawing | null {
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
