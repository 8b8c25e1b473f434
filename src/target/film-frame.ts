/**
 * The 35 mm frame that carries both eyes' pictures, one above the other.
 *
 * Film frame of reference: millimetres; x from the reference edge of the film, y up from the frame's centre; the film is
 * seen so that the pictures stand upright and read rightly. Then the reference edge, the one beside the sound track, is
 * on the left, and the frame's ends lie midway between two perforations (both from memory, unconfirmed).
 *
 *   cc      centre-to-centre distance of the two pictures
 *   h       height of one picture = width / aspect
 *   septum  = cc - h                  black bar between the pictures of one frame
 *   frame line = 4 pitches - cc - h   black bar between this frame and the next
 *
 * The pictures' centres lie cc/2 above and below the frame's centre, so that septum and frame line both come out centred.
 *
 * The perforation pitch is 4.750 mm (SMPTE ST 119:2011), so a frame is 19.000 mm. The inch figure for the same pitch,
 * 0.1870 in, gives 0.748 in = 18.9992 mm; the two roundings differ by 0.8 um in a frame, less than a tenth of the
 * tolerance of one pitch (0.0004 in = 10 um). The frame is laid out on the metric pitch and cc is 25.4 mm to the inch.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import { UnmetRequest } from '../kernel/unmet-request.ts';

export const PERFORATION_PITCH_MM = 4.75;
const PERFORATIONS_PER_FRAME = 4;

/** Film width 1.377 in (SMPTE 102-2002, table 1). */
export const FILM_WIDTH_MM = 34.975;

/** Width of the projected picture on the film (ISO 2907:2002). */
export const PICTURE_WIDTH_MM = 20.95;

/** Middle of the projected area, from 8.23 mm to 29.24 mm from the reference edge (ISO 2907:2002). */
export const PICTURE_CENTRE_LINE_MM = (8.23 + 29.24) / 2;

export const MM_PER_INCH = 25.4;

export interface FilmFrameForm {
  readonly centreToCentre_in: number;
  readonly aspect: number;
  readonly pictureWidth_mm?: number;
  /** Which eye's picture is the upper one when the frame is seen heads up. Right: common practice, no source. */
  readonly upperEye?: Eye;
}

export interface FilmFrame {
  readonly centreToCentre_in: number;
  readonly centreToCentre_mm: number;
  readonly aspect: number;
  readonly upperEye: Eye;
  readonly pictureWidth_mm: number;
  readonly pictureHeight_mm: number;
  readonly septum_mm: number;
  readonly frameLine_mm: number;
  readonly filmWidth_mm: number;
  readonly frameHeight_mm: number;
  /** Centres of the pictures. */
  readonly pictures: readonly { readonly eye: Eye; readonly x_mm: number; readonly y_mm: number }[];
  /** Heights of the perforations' centres; the frame's ends lie midway between perforations. */
  readonly perforations_y_mm: readonly number[];
}

/**
 * Lays the frame out. Throws RangeError when the two pictures would overlap each other or the next frame's picture.
 */
export function layoutFilmFrame(form: FilmFrameForm): FilmFrame {
  const { centreToCentre_in, aspect, pictureWidth_mm = PICTURE_WIDTH_MM, upperEye = 'right' } = form;
  const frameHeight_mm = PERFORATIONS_PER_FRAME * PERFORATION_PITCH_MM;
  const centreToCentre_mm = centreToCentre_in * MM_PER_INCH;
  const pictureHeight_mm = pictureWidth_mm / aspect;
  const septum_mm = centreToCentre_mm - pictureHeight_mm;
  const frameLine_mm = frameHeight_mm - centreToCentre_mm - pictureHeight_mm;
  if (!(pictureWidth_mm > 0 && pictureWidth_mm <= PICTURE_WIDTH_MM)) {
    throw new RangeError(`the picture on the film must be at most ${PICTURE_WIDTH_MM} mm wide, not ${pictureWidth_mm}`);
  }
  if (!(septum_mm > 0 && frameLine_mm > 0)) {
    const height_mm = pictureHeight_mm.toFixed(2);
    const height = `${height_mm} mm`;
    const min = (pictureHeight_mm / MM_PER_INCH).toFixed(3);
    const max = ((frameHeight_mm - pictureHeight_mm) / MM_PER_INCH).toFixed(3);
    throw new UnmetRequest(
      2 * pictureHeight_mm >= frameHeight_mm ? 'pictures-too-high' : 'pictures-overlap',
      {
        height_mm,
        frame_mm: frameHeight_mm,
        aspect: `${aspect}`,
        min_in: min,
        max_in: max,
        value: `${centreToCentre_in}`,
      },
      2 * pictureHeight_mm >= frameHeight_mm
        ? `two pictures ${height} high (shape ${aspect}) do not fit into one frame of ${frameHeight_mm} mm`
        : `with pictures ${height} high the centre-to-centre distance must lie between ${min} and ${max} in, not ${centreToCentre_in}`,
    );
  }
  const pictures = EYES.map((eye) => ({
    eye,
    x_mm: PICTURE_CENTRE_LINE_MM,
    y_mm: ((eye === upperEye ? 1 : -1) * centreToCentre_mm) / 2,
  }));
  const middle = (PERFORATIONS_PER_FRAME - 1) / 2;
  return {
    centreToCentre_in,
    centreToCentre_mm,
    aspect,
    upperEye,
    pictureWidth_mm,
    pictureHeight_mm,
    septum_mm,
    frameLine_mm,
    filmWidth_mm: FILM_WIDTH_MM,
    frameHeight_mm,
    pictures,
    perforations_y_mm: Array.from({ length: PERFORATIONS_PER_FRAME }, (_, i) => (middle - i) * PERFORATION_PITCH_MM),
  };
}
