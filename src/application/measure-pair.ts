/**
 * The whole job on one page: two photographs of the projected target in, a reading out.
 *
 *   photographs -> pixels -> marks of each photograph -> eyes and steadiness -> views of both eyes
 *               -> misalignment with uncertainty -> findings -> causes -> turns -> reading
 *
 * Words are put to the reading by whoever talks to a person; the reading holds codes and numbers.
 */
import { findCauses } from '../findings/causes.ts';
import { judge } from '../findings/judge.ts';
import { fitViews } from '../geometry/fit-views.ts';
import { measureMisalignment, widenForMovement } from '../geometry/measure-misalignment.ts';
import type { Point } from '../kernel/point.ts';
import type { Photo } from '../photo/photo.ts';
import type { House } from '../record/house.ts';
import type { UnwordedReading } from '../record/reading.ts';
import { type Chart, DEFAULT_ASPECT, layOutChart } from '../target/chart.ts';
import { advise } from '../turns/advise.ts';
import { loadOpenCv } from '../vision/opencv/load-opencv.ts';
import { compareShots, type ShotPair } from './compare-shots.ts';
import { composeMeasured, composeRefused } from './compose-reading.ts';
import { examineShot, seenMarks } from './examine-shot.ts';
import { judgePair } from './judge-pair.ts';
import { pairOf } from './pair-of.ts';
import { readPair } from './read-pair.ts';

export interface MeasurePairRequest {
  /** Path of the photograph taken through the left lens of the glasses. */
  readonly leftPath: string;
  readonly rightPath: string;
  /** What the reading calls the files, where it is not their paths. */
  readonly leftName?: string;
  readonly rightName?: string;
  /** A third photograph, through the left lens again, taken last: it shows whether the camera kept still. */
  readonly closingPath?: string;
  readonly closingName?: string;
  /** Standard uncertainty of a picture's place among the frames of which live shots are the mean, photo px. */
  readonly wander_px?: Point;
  readonly house?: House;
  /** Picture width over height of the target; the house's where there is one, otherwise 2.35. */
  readonly aspect?: number;
  readonly softwareVersion: string;
}

type Examination = ReturnType<typeof examineShot>;

export async function measurePair(request: MeasurePairRequest): Promise<UnwordedReading> {
  const { house, softwareVersion } = request;
  const aspect = request.aspect ?? house?.screen.picture_aspect ?? DEFAULT_ASPECT;
  const chart = layOutChart(aspect);

  // The left photograph is looked at while the right one is still being decoded.
  let first: Examination | undefined;
  const photos = await readPair(request.leftPath, request.rightPath, ({ pixels }) => {
    first = examineShot(undefined, pixels, chart);
  });
  if (photos.outcome === 'refused') return composeRefused(softwareVersion, [], photos.refusal, photos.shot);
  const { left, right } = photos;
  const files: readonly Photo[] = [left, right];

  const examined = { left: await examine(left, chart, first), right: await examine(right, chart) };
  if (examined.left.outcome === 'refused') return composeRefused(softwareVersion, files, examined.left, 'left-lens');
  if (examined.right.outcome === 'refused') return composeRefused(softwareVersion, files, examined.right, 'right-lens');
  const shots = examined as ShotPair;

  const compared = compareShots(shots, chart);
  if (compared.outcome === 'refused') return composeRefused(softwareVersion, files, compared, null);

  const seen = [...seenMarks(shots.left.marks), ...seenMarks(shots.right.marks)];
  const fit = fitViews(seen, left.pixels);
  if (fit.outcome === 'refused') return composeRefused(softwareVersion, files, { ...fit, code: 'too-few-marks' }, null);
  const misalignment = widenForMovement(measureMisalignment(pairOf(fit), aspect), compared.movement_ih, aspect);
  const implausible = judgePair(fit, misalignment);
  if (implausible) return composeRefused(softwareVersion, files, implausible, null);

  const { eyes } = compared;
  const findings = judge({ misalignment, eyes, house, aspect });
  const upperPortShows = house?.attachment?.upper_port_shows ?? 'right';
  const causes = findCauses({ misalignment, eyes, house, aspect, upperPortShows }, findings);
  const advice = advise({ misalignment, house, aspect, eyesExchanged: eyes.assignment === 'swapped' });
  return composeMeasured({
    softwareVersion,
    files,
    house,
    chart,
    shots,
    compared,
    fit,
    misalignment,
    findings,
    causes,
    advice,
  });
}

/** A quick look first; what that refuses is looked at thoroughly, with a library that takes longer to load than to work. */
async function examine({ pixels }: Photo, chart: Chart, first?: Examination): Promise<Examination> {
  const quick = first ?? examineShot(undefined, pixels, chart);
  if (quick.outcome === 'examined') return quick;
  const { cv } = await loadOpenCv();
  return examineShot(cv, pixels, chart);
}
