/**
 * The two pictures of a frame on the film, and what a threading error of half a frame does to them.
 *
 * The pictures stand cc apart; without the attachment they would fall S = cc / h apart on the screen (ih, h = height
 * of one picture on the film). Four perforations of 0.1870 in make a frame of 0.748 in, so across the frame line the
 * next picture stands 0.748 in - cc away.
 */
import type { Eye } from '../kernel/eye.ts';
/** What has to be known of the film; a House file read by the record room has this shape. */
export interface FilmFacts {
  readonly centre_to_centre_in: number;
  readonly picture_width_mm: number;
  readonly picture_height_mm?: number | undefined;
}

const MM_PER_IN = 25.4;
/** Four perforations of 0.1870 in: SMPTE 102. */
const FRAME_STEP_IN = 0.748;

/**
 * S: how far apart, in ih, the pictures would fall without the attachment.
 *
 * @example
 * separatePictures({ centre_to_centre_in: 0.387, picture_width_mm: 20.95 }, 2.35); // 1.103 ih
 */
export function separatePictures(film: FilmFacts, aspect: number): number {
  return (film.centre_to_centre_in * MM_PER_IN) / pictureHeightOnFilm_mm(film, aspect);
}

/** The height of one picture on the film; where the House does not state it, width over aspect. */
function pictureHeightOnFilm_mm(film: FilmFacts, aspect: number): number {
  return film.picture_height_mm ?? film.picture_width_mm / aspect;
}

/**
 * The vertical offset (right minus left, ih) that half-frame threading adds, for an attachment set for the film's cc.
 *
 * The aperture then holds one frame's lower and the next one's upper picture, 0.748 in - cc apart, and each port the
 * other eye's picture. The attachment still brings the ports' pictures cc / h together, so the upper port's picture is
 * left (0.748 in - 2 cc) / h too high. With the right-eye picture through the upper port, as usual, that is now the
 * left-eye picture: right minus left is the negative of it.
 *
 * @example
 * predictHalfFrameOffset({ centre_to_centre_in: 0.387, picture_width_mm: 20.95 }, 2.35, 'right'); // 0.074 ih
 */
export function predictHalfFrameOffset(film: FilmFacts, aspect: number, upperPortShows: Eye): number {
  const upperTooHigh =
    ((FRAME_STEP_IN - 2 * film.centre_to_centre_in) * MM_PER_IN) / pictureHeightOnFilm_mm(film, aspect);
  return upperPortShows === 'right' ? -upperTooHigh : upperTooHigh;
}
