/**
 * The whole job on one page: two photographs of the projected target in, a reading out.
 *
 *   photographs -> pixels -> marks of each photograph -> eyes and steadiness -> views of both eyes
 *               -> misalignment with uncertainty -> findings -> causes -> turns -> reading
 *
 * Words are put to the reading by whoever talks to a person; the reading holds codes and numbers.
 */
import { diagnose } from '../diagnosis/diagnose.ts';
import { forecastLight } from '../diagnosis/forecast-light.ts';
import { judge } from '../limits/judge.ts';
import { fitViews } from '../geometry/fit-views.ts';
import { measureMisalignment, widenForMovement } from '../geometry/measure-misalignment.ts';
import type { Point } from '../kernel/point.ts';
import type { Refusal } from '../kernel/refusal.ts';
import { pixelsPerHeight } from '../kernel/view.ts';
import { surveyCrosstalk } from '../light/survey-crosstalk.ts';
import type { Photo } from '../photo/photo.ts';
import type { PhotoReading } from '../photo/read-photo.ts';
import type { House } from '../record/house.ts';
import type { UnwordedReading } from '../record/reading.ts';
import { layoutChart } from '../target/chart.ts';
import { advise } from '../turns/advise.ts';
import { closeSeries } from './pair/compare-closing.ts';
import { compareShots } from './pair/compare-shots.ts';
import { composeMeasured, composeRefused } from './pair/compose-reading.ts';
import { seenMarks, type Look, examineQuickly, examineThoroughly } from './shot/examine-shot.ts';
import { findStrays } from './pair/find-strays.ts';
import { judgePair, pairOf } from './pair/judge-pair.ts';
import { type PhotoSource, readPair } from './shot/read-pair.ts';
import type { ShotPair } from './pair/observe-pictures.ts';
import type { PhotographRole } from '../record/roles.ts';
import { DEFAULT_ASPECT } from '../kernel/aspect.ts';

export interface MeasurePairRequest {
  /** Path of the photograph taken through the left lens of the glasses. */
  readonly leftPath: string;
  readonly rightPath: string;
  /** The left photograph, where its reading has begun already. */
  readonly leftReading?: Promise<PhotoReading>;
  /** What the reading calls the files, where it is not their paths. */
  readonly leftName?: string;
  readonly rightName?: string;
  /** A third photograph, through the left lens again, taken last: it shows whether the camera kept still. */
  readonly closingPath?: string;
  readonly closingName?: string;
  /** How the film's weave leaves the pictures of live shots to each other: standard uncertainty, photo px. */
  readonly wander_px?: Point;
  /** The same of the closing photograph's picture to the first one's. */
  readonly closingWander_px?: Point;
  readonly house?: House;
  /** Picture width over height of the target; the house's where there is one, otherwise 2.35. */
  readonly aspect?: number;
  readonly softwareVersion: string;
  /** Called as each stage begins. */
  readonly onStage?: (stage: MeasuringStage) => void;
}

/** The files; the marks in them; eyes and steadiness; views and misalignment; limits, causes and turns. */
export type MeasuringStage = 'reading' | 'looking' | 'comparing' | 'fitting' | 'advising';

export async function measurePair(request: MeasurePairRequest): Promise<UnwordedReading> {
  const { house, softwareVersion, onStage } = request;
  const aspect = request.aspect ?? house?.screen.picture_aspect ?? DEFAULT_ASPECT;
  const chart = layoutChart(aspect);

  onStage?.('reading');
  // The left photograph is looked at while the right one is still being decoded.
  let leftLook: Look | undefined;
  const { left: leftSource, right: rightSource, closing: closingSource } = sourcesOf(request);
  const onLeft = ({ pixels }: Photo) => {
    leftLook = examineQuickly(pixels, chart);
  };
  const reading = readPair(leftSource, rightSource, { leftReading: request.leftReading, onLeft });
  // What causes would look like needs no photograph: computed now, while the first one is being decoded.
  forecastLight();
  const photos = await reading;
  if (photos.outcome === 'refused') return composeRefused(softwareVersion, [], photos.refusal, photos.shot);
  const { left, right } = photos;
  const files: Photo[] = [left, right];
  const refused = (refusal: Refusal<string>, shot: PhotographRole | null = null) =>
    composeRefused(softwareVersion, files, refusal, shot);

  onStage?.('looking');
  const examined = {
    left: await examineThoroughly(left.pixels, chart, leftLook),
    right: await examineThoroughly(right.pixels, chart),
  };
  if (examined.left.outcome === 'refused') return refused(examined.left, 'left-lens');
  if (examined.right.outcome === 'refused') return refused(examined.right, 'right-lens');
  const shots = examined as ShotPair;

  onStage?.('comparing');
  const pair = compareShots(shots, chart, request.wander_px);
  if (pair.outcome === 'refused') return refused(pair);
  const first = { photo: left, shot: shots.left };
  const closed = closingSource && (await closeSeries(closingSource, first, pair, chart, request.closingWander_px));
  if (closed) files.push(...closed.files);
  if (closed?.outcome === 'refused') return refused(closed.refusal, 'closing');
  const compared = closed?.compared ?? pair;
  const strays = findStrays(shots, pair.observations, pair.views, chart);

  onStage?.('fitting');
  const seen = [...seenMarks(shots.left.marks), ...seenMarks(shots.right.marks)];
  const fit = fitViews(seen, left.pixels);
  if (fit.outcome === 'refused') return refused({ ...fit, code: 'too-few-marks' });
  const { wander_px = { x: 0, y: 0 } } = request;
  const wander_ih = Math.hypot(wander_px.x, wander_px.y) / pixelsPerHeight(fit.views.left!);
  const moved_ih = Math.hypot(compared.movement_ih, wander_ih);
  const misalignment = widenForMovement(measureMisalignment(pairOf(fit), aspect), moved_ih, aspect);
  const implausible = judgePair(fit, misalignment);
  if (implausible) return refused(implausible);

  onStage?.('advising');
  const { eyes } = compared;
  const crosstalkSurvey = surveyCrosstalk(compared.matrix.maps, aspect);
  const judged = { misalignment, eyes, crosstalkSurvey, strays, house, aspect };
  const findings = judge(judged);
  const upperPortShows = house?.attachment?.upper_port_shows ?? 'right';
  const diagnosis = diagnose({ ...judged, upperPortShows }, findings);
  const advice = advise({ misalignment, house, aspect, eyesExchanged: eyes.assignment === 'swapped' });
  return composeMeasured({
    softwareVersion,
    files,
    house,
    chart,
    shots,
    compared,
    strays,
    fit,
    misalignment,
    findings,
    diagnosis,
    advice,
  });
}

function sourcesOf(request: MeasurePairRequest): Record<'left' | 'right', PhotoSource> & { closing?: PhotoSource } {
  const { leftPath, rightPath, closingPath, leftName = leftPath, rightName = rightPath } = request;
  const pair = { left: { path: leftPath, name: leftName }, right: { path: rightPath, name: rightName } };
  if (closingPath === undefined) return pair;
  return { ...pair, closing: { path: closingPath, name: request.closingName ?? closingPath } };
}
