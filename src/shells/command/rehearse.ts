/** Renders the photographs of a simulated projector with their exact truth, and writes them. */
import { EYES } from '../../kernel/eye.ts';
import { encodeJpeg, encodePng } from '../../photo/write-photo.ts';
import type { House } from '../../record/house.ts';
import { type FurtherKind, type FurtherPhotographs, planFurtherPhotographs } from '../../scene/further-photographs.ts';
import { type SeriesPhotograph, withPairOf } from '../../scene/photograph-series.ts';
import { motionOf, planRehearsalSeries } from '../../scene/rehearsal-conditions.ts';
import { type RehearsalOptions, setUpRehearsal } from '../../scene/rehearsal-set.ts';
import { renderShot } from '../../scene/render-shot.ts';
import { type SceneSet, shotSeed } from '../../scene/scene.ts';
import { recordTruth, TRUTH_SCHEMA, type TruthRecord } from '../../scene/truth-record.ts';
import { openFolder } from './claim-place.ts';

export interface RehearsalRequest {
  readonly seed: number;
  /** Folder for the files; made when it does not exist. */
  readonly out: string;
  /** The Meridian when left out. The camera stands at the house's reference seat. */
  readonly house?: House;
  readonly wish?: RehearsalOptions;
  /** Write each photograph as PNG as well, without the losses of JPEG. */
  readonly png?: boolean;
  /** Photographs beside the pair. */
  readonly also?: readonly FurtherKind[];
  /** Over what others have put there. */
  readonly force?: boolean;
}

export interface Rehearsal {
  /** Paths of everything that was written. */
  readonly files: string[];
  readonly truth: TruthRecord;
}

/**
 * Writes left-lens.jpg, right-lens.jpg, the further photographs and truth.json. The same order gives the same bytes.
 * Throws UnmetRequest for a wish that no scene can have, before anything is written.
 */
export async function rehearse(request: RehearsalRequest): Promise<Rehearsal> {
  const { seed, house, wish = {}, also = [], png = false, force = false } = request;
  const still = setUpRehearsal(seed, wish, house && factsOfHouse(house));
  const series = planRehearsalSeries(still, wish);
  const set = series ? withPairOf(still, series) : still;
  const weave_ih = (wish.weave_pct ?? 0) / 100;
  const upperPortShows = house?.attachment?.upper_port_shows;
  const further = planFurtherPhotographs(still, {
    kinds: also,
    weave_ih,
    motion: motionOf(wish.filmMotion_um ?? 0),
    framesPerExposure: wish.framesPerExposure,
    isBareTaken: series?.some(({ role }) => role === 'bare') ?? false,
    ...(upperPortShows && { upperPortShows }),
  });
  return writeSet(set, request.out, { png, force, ...(series && { series }), ...(also.length > 0 && { further }) });
}

interface WrittenBeside {
  readonly png?: boolean;
  readonly force?: boolean;
  readonly further?: FurtherPhotographs;
  /** All photographs through the lenses and without them, the pair among them. */
  readonly series?: readonly SeriesPhotograph[];
}

/** Renders and writes a set under the fixed names. */
export async function writeSet(
  set: SceneSet,
  out: string,
  { png = false, force = false, further, series }: WrittenBeside = {},
): Promise<Rehearsal> {
  const files: string[] = [];
  const put = await openFolder(out, { file: 'truth.json', schema: TRUTH_SCHEMA }, { force });
  const write = async (name: string, content: Uint8Array | string) => {
    files.push(await put(name, content));
  };
  const photograph = async (name: string, pixels: Parameters<typeof encodeJpeg>[0]) => {
    await write(`${name}.jpg`, await encodeJpeg(pixels, set.jpegQuality));
    if (png) await write(`${name}.png`, await encodePng(pixels));
  };
  const pair = EYES.map((lens) => ({
    name: `${lens}-lens`,
    shot: set.shots[lens],
    noiseSeed: shotSeed(set, lens),
  }));
  for (const { name, shot, noiseSeed } of series ?? pair) {
    await photograph(name, renderShot(set.scene, shot, noiseSeed).pixels);
  }
  for (const { name, render } of further?.photographs ?? []) await photograph(name, render());
  const truth = recordTruth(set, { left: 'left-lens.jpg', right: 'right-lens.jpg' }, further?.truth, series);
  await write('truth.json', `${JSON.stringify(truth, undefined, 2)}\n`);
  return { files, truth };
}

function factsOfHouse({ screen, throw_m, seats, film, attachment }: House) {
  return {
    aspect: screen.picture_aspect,
    pictureWidth_m: screen.picture_width_m,
    throw_m,
    cameraDistance_m: seats.reference_seat_m,
    film: {
      centreToCentre_in: film.centre_to_centre_in,
      pictureHeight_in: film.picture_height_mm === undefined ? undefined : film.picture_height_mm / 25.4,
      upperPortShows: attachment?.upper_port_shows,
    },
  };
}
