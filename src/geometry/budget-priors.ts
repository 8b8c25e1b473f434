/**
 * What no photograph shows and has to be known beforehand: how the target is printed, how film moves in the gate, how the
 * lenses of the glasses bend the view. Fulfils "Priors where nothing tells"; the sources stand in misalignment-budget.ts.
 */
import type { Movement } from './estimate-movement.ts';
import type { Term } from './misalignment.ts';
import type { MovementPrior } from './movement-process.ts';

/** What is known beforehand, in ih and radians; each standard uncertainty with where it comes from. */
export interface BudgetPriors {
  /** Each mark on the print, both directions, ih, and over what distance neighbours err alike. */
  readonly printMark: Prior & { readonly length_ih: number };
  /** The right-eye picture against the left-eye picture on the print, both directions, ih. */
  readonly printEyes: Prior;
  /** Position of the film from frame to frame; `undefined` for one exposure, and for what does not move. */
  readonly film?: FilmMotion | undefined;
  /** What the film does to both pictures of one exposure; `undefined` for two, and for what does not move. */
  readonly sharedFilm?: SharedFilmMotion | undefined;
  /** The wedge of each lens of the glasses, as a shift of the view, both directions, ih; `undefined` for one exposure. */
  readonly wedge?: Prior | undefined;
  /** What a ghost told of the movement between two exposures, which was taken out: it takes the place of film and wedge. */
  readonly movement?: Movement | undefined;
  /** Half the last digit shown, in the unit of each term. */
  readonly rounding?: Readonly<Partial<Record<Term | 'worstVertical', number>>>;
}

export interface Prior {
  readonly u: number;
  readonly source: string;
  readonly degreesOfFreedom?: number;
}

export interface FilmMotion {
  /** Upright, ih: averages over the frames of an exposure. */
  readonly jump: Prior;
  /** Sideways, ih: slow, does not average. */
  readonly weave: Prior;
  /** Radians; averages as jump does. */
  readonly turn: Prior;
  /** Centre to centre of the two pictures on the film, ih: a turn about the middle of the frame shifts each sideways. */
  readonly apart_ih: number;
  readonly frames: { readonly left: number; readonly right: number };
}

export type SharedFilmMotion = Omit<FilmMotion, 'frames'> & {
  /** That the exposure holds: jump and turn average over them. */
  readonly frames: number;
};

const MM = { motion: 0.005, printEyes: 0.005 } as const;
const PRINT_MARK_IH = 5e-5;
const PRINT_LENGTH_IH = 0.4;
/** A shift of the film at one of two guides a frame (19 mm) apart turns the picture by as much. */
const GUIDE_MM = 19;
/** Centre to centre of the two pictures on the film: 0.375 in. */
const CENTRES_MM = 9.525;
const FRAMES_PER_SECOND = 24;
const MAX_EXPOSURE_S = 60;
/** A zoom that creeps, a house that settles: never taken to be stiller than this, ih and fractions. */
const MIN_MOVEMENT = 1e-4;
/** Nearest usual place of a camera, picture heights. */
const CAMERA_DISTANCE_IH = 3;

/**
 * Frames of film that an exposure holds: at least one; one where the exposure time is missing or absurd.
 *
 * @example
 * framesOfExposure(1 / 4); // 6, at 24 frames a second
 */
export function framesOfExposure(exposure_s: number | undefined, framesPerSecond = FRAMES_PER_SECOND): number {
  if (exposure_s === undefined || !isExposureTime(exposure_s)) return 1;
  return Math.max(1, exposure_s * framesPerSecond);
}

/**
 * Whether a photograph of a running film can have been exposed for so long.
 *
 * @example
 * isExposureTime(604_800); // false: a week
 */
export function isExposureTime(exposure_s: number): boolean {
  return exposure_s > 0 && exposure_s <= MAX_EXPOSURE_S;
}

/**
 * The defaults, all marked `default`: 0.005 % of the height for each mark; 0.005 mm on the film for eye against eye and
 * for film motion from frame to frame in each direction; a turn that follows from it (an assumption).
 *
 * @param pictureHeight_mm height of one picture on the film.
 * @param exposures the frames that one photograph of both pictures holds, or each of two exposures; `one`: one frame.
 * @param wedge_ih shift of the view by the wedge of a lens of the glasses, where it is known.
 * @param centres_mm centre to centre of the two pictures on the film.
 * @example
 * defaultPriors(8.915, { left: 6, right: 6 }); // a pair, a quarter of a second each
 */
export function defaultPriors(
  pictureHeight_mm: number,
  exposures: 'one' | { readonly both: number } | { readonly left: number; readonly right: number },
  wedge_ih?: number,
  centres_mm = CENTRES_MM,
): BudgetPriors {
  const source = 'default';
  const motion = { u: MM.motion / pictureHeight_mm, source };
  const apart_ih = centres_mm / pictureHeight_mm;
  const turn = { u: (Math.SQRT2 * MM.motion) / GUIDE_MM, source: 'assumption' };
  const film = { jump: motion, weave: motion, turn, apart_ih };
  const isOne = exposures === 'one' || 'both' in exposures;
  return {
    printMark: { u: PRINT_MARK_IH, length_ih: PRINT_LENGTH_IH, source },
    printEyes: { u: MM.printEyes / pictureHeight_mm, source },
    ...(isOne && {
      sharedFilm: { ...film, frames: exposures === 'one' ? 1 : exposures.both },
    }),
    ...(!isOne && {
      film: { ...film, frames: exposures },
      ...(wedge_ih !== undefined && { wedge: { u: wedge_ih, source: 'assumption' } }),
    }),
  };
}

/**
 * What is known of a movement between two exposures before a ghost was looked at: `estimateMovement` takes it.
 *
 * @example
 * const { film, view } = movementPrior(defaultPriors(8.915, { left: 6, right: 6 })); // ih, radians, a fraction
 */
export function movementPrior({ film, wedge }: BudgetPriors): MovementPrior {
  const averaged = film ? 1 / film.frames.left + 1 / film.frames.right : 0;
  const turn = Math.sqrt(averaged) * (film?.turn.u ?? 0);
  const shift = Math.max(MIN_MOVEMENT, Math.SQRT2 * (wedge?.u ?? 0));
  return {
    film: [
      Math.sqrt(averaged) * (film?.jump.u ?? 0),
      Math.hypot(Math.SQRT2 * (film?.weave.u ?? 0), ((film?.apart_ih ?? 0) / 2) * turn),
      turn,
    ],
    view: viewPrior(shift, shift, MIN_MOVEMENT, MIN_MOVEMENT),
  };
}

/**
 * A view that shifts by so much, ih, turns and grows. A filter shifts a photograph as a whole; a camera that turns as far,
 * or a wedge that bends every ray by one angle, bends it as well: at the angle x / d by s (1 + x^2 / d^2).
 *
 * @example
 * viewPrior(1e-3, 1e-3, 0, 0); // a wedge of a thousandth of the height
 */
export function viewPrior(up: number, right: number, turn: number, size: number): MovementPrior['view'] {
  return [up, right, turn, size, right / CAMERA_DISTANCE_IH ** 2, up / CAMERA_DISTANCE_IH ** 2];
}
