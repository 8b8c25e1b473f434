/**
 * How the film stands in the gate, frame by frame, and what one exposure averages of it.
 *
 *   place of frame k = (weave_k, jump_k), turned by turn_k about the middle of the frame
 *   jump, turn: independent from frame to frame;  weave_k = r weave_(k-1) + sqrt(1 - r^2) n,  r = exp(-1 / (24 t))
 *
 * Both pictures of a frame move as one rigid piece of film. A shift moves both alike; a turn moves the two pictures, which
 * stand above and below the middle of the frame, sideways against each other by the turn times their distance.
 *
 * An exposure of N frames begins somewhere within a frame, so that N + 1 frames share it. The shutter's blade wipes over the
 * aperture from one picture to the other: the upper one is lit a little later, and has a larger share of the first frame and
 * a smaller one of the last.
 *
 * Lengths on the film in mm; one picture height on it is `Film.pictureHeight_mm`. Jump is fast and weave slow: SMPTE RP 105,
 * clauses 2.2 and 2.3.
 */
import type { Eye } from '../kernel/eye.ts';
import type { Point } from '../kernel/point.ts';
import type { RandomSource } from '../kernel/random.ts';

export const FRAMES_PER_SECOND = 24;

export interface Film {
  readonly pictureHeight_mm: number;
  readonly centreToCentre_mm: number;
  readonly upperPortShows: Eye;
}

/** 0.375 in between the centres and 20.95 mm of width (ISO 2907), which at 2.35 are 8.915 mm of height. */
export const DEFAULT_FILM: Film = { pictureHeight_mm: 20.95 / 2.35, centreToCentre_mm: 9.525, upperPortShows: 'right' };

/** Standard deviations; none where left out. */
export interface FilmMotion {
  /** From frame to frame, up and down. */
  readonly jump_mm?: number;
  /** Slowly, sideways. */
  readonly weave_mm?: number;
  /** Time over which the weave forgets where it was. */
  readonly weaveTime_s?: number;
  /** Of the frame as a whole. */
  readonly turn_deg?: number;
  /** How much later the upper picture is lit than the lower one, in frames. */
  readonly shutterWipe_frames?: number;
}

/** The film's place in the gate while one frame is shown, as seen on the screen. */
export interface FilmFrame {
  readonly shift_ih: Point;
  /** Counter-clockwise about the middle of the frame. */
  readonly turn_rad: number;
  /** Its part of the exposure, for each eye's picture; the parts of all frames add up to 1. */
  readonly share: Readonly<Record<Eye, number>>;
}

export interface ExposureTime {
  /** Since the first photograph. */
  readonly start_s: number;
  /** How many frames it averages; 0 stands for a flash that shows one frame alone. */
  readonly frames: number;
}

/** How far the middle of an eye's picture stands above the middle of the frame, ih. */
export function heightInFrame(film: Film, eye: Eye): number {
  const half = film.centreToCentre_mm / film.pictureHeight_mm / 2;
  return film.upperPortShows === eye ? half : -half;
}

/**
 * The frames of each exposure, of one and the same running film. Exposures in the order of their time.
 * Throws RangeError for times that run backwards.
 */
export function exposeFilm(
  film: Film,
  motion: FilmMotion,
  exposures: readonly ExposureTime[],
  random: RandomSource,
): FilmFrame[][] {
  const { shutterWipe_frames = 0 } = motion;
  const next = runFilm(film, motion, random.fork(1));
  const phases = random.fork(2);
  let shown: Omit<FilmFrame, 'share'>[] = [];
  let first = 0;
  return exposures.map(({ start_s, frames }) => {
    const phase = phases.uniform();
    const from = Math.floor(start_s * FRAMES_PER_SECOND);
    if (from < first) throw new RangeError('exposures follow one another in time');
    const count = Math.max(1, Math.ceil(frames + 1 + shutterWipe_frames));
    while (first + shown.length < from + count) {
      shown.push(next());
      if (first + shown.length <= from) {
        first += shown.length;
        shown = [];
      }
    }
    shown = shown.slice(from - first);
    first = from;
    const shareOf = (k: number, late: number) => {
      if (frames === 0) return k === 0 ? 1 : 0;
      const begin = phase + shutterWipe_frames - late;
      return Math.max(0, Math.min(k + 1, begin + frames) - Math.max(k, begin)) / frames;
    };
    const late = (eye: Eye) => (film.upperPortShows === eye ? shutterWipe_frames : 0);
    return shown
      .slice(0, count)
      .map((place, k) => ({ ...place, share: { left: shareOf(k, late('left')), right: shareOf(k, late('right')) } }))
      .filter(({ share }) => share.left > 0 || share.right > 0);
  });
}

function runFilm(film: Film, motion: FilmMotion, random: RandomSource): () => Omit<FilmFrame, 'share'> {
  const { jump_mm = 0, weave_mm = 0, weaveTime_s = 0.5, turn_deg = 0 } = motion;
  const kept = Math.exp(-1 / (FRAMES_PER_SECOND * weaveTime_s));
  let weave = random.normal();
  return () => {
    weave = kept * weave + Math.sqrt(1 - kept * kept) * random.normal();
    const shift_ih = {
      x: (weave_mm * weave) / film.pictureHeight_mm,
      y: (jump_mm * random.normal()) / film.pictureHeight_mm,
    };
    return { shift_ih, turn_rad: (turn_deg * random.normal() * Math.PI) / 180 };
  };
}

/** Where a point of an eye's picture stands when the film stands as in `frame`, ih. */
export function moveWithFilm(film: Film, eye: Eye, { shift_ih, turn_rad }: FilmFrame, p: Point): Point {
  if (turn_rad === 0) return { x: p.x + shift_ih.x, y: p.y + shift_ih.y };
  const height = heightInFrame(film, eye);
  const y = p.y + height;
  const [cos, sin] = [Math.cos(turn_rad), Math.sin(turn_rad)];
  return { x: cos * p.x - sin * y + shift_ih.x, y: sin * p.x + cos * y - height + shift_ih.y };
}
