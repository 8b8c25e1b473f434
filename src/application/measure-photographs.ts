/**
 * The whole job on one page: photographs of the projected target in, a reading out.
 *
 *   photographs -> pixels -> marks of each photograph -> eyes, from photographs through the glasses
 *               -> how the pictures lie to each other, with uncertainty -> findings -> causes -> turns -> reading
 *
 * Words are put to the reading by whoever talks to a person; the reading holds codes and numbers.
 */
import { diagnose } from '../diagnosis/diagnose.ts';
import { forecastLight } from '../diagnosis/forecast-light.ts';
import { DEFAULT_ASPECT } from '../kernel/aspect.ts';
import type { Point } from '../kernel/point.ts';
import type { Refusal } from '../kernel/refusal.ts';
import { surveyCrosstalk } from '../light/survey-crosstalk.ts';
import { judge } from '../limits/judge.ts';
import type { House } from '../record/house.ts';
import type { UnwordedReading } from '../record/reading.ts';
import type { PhotographRole } from '../record/roles.ts';
import { type Chart, layoutChart } from '../target/chart.ts';
import { advise } from '../turns/advise.ts';
import { judgePlaces } from './pair/check-mixture.ts';
import { compareLenses } from './pair/compare-lenses.ts';
import { composeMeasured, composeRefused } from './pair/compose-reading.ts';
import { judgePair } from './pair/judge-pair.ts';
import { homographiesOf, relateBare, relatePair } from './pair/relate-pictures.ts';
import { examineQuickly, examineThoroughly, type Look } from './shot/examine-shot.ts';
import { type PhotographSource, type RolePhoto, readPhotographs } from './shot/read-photographs.ts';
import { type LookedAt, sortOut } from './shot/sort-out.ts';

export interface MeasureRequest {
  /**
   * In the order in which they were taken: photographs without glasses, or one through each lens of them, or both; of
   * each as many as there are.
   */
  readonly photographs: readonly PhotographSource[];
  /** How the film's weave leaves the pictures of live shots to each other: standard uncertainty, photo px. */
  readonly wander_px?: Point;
  /** The same of the closing photograph's picture to the first one's. */
  readonly closingWander_px?: Point;
  readonly house?: House;
  /** Picture width over height of the target; the house's where there is one, otherwise 2.35. */
  readonly aspect?: number;
  /** The order of `photographs` was said; where it was not, the times in the files count. */
  readonly isOrderGiven?: boolean;
  readonly softwareVersion: string;
  /** Called as each stage begins. */
  readonly onStage?: (stage: MeasuringStage) => void;
}

/** The files; the marks in them; eyes and what moved; views and misalignment; limits, causes and turns. */
export type MeasuringStage = 'reading' | 'looking' | 'comparing' | 'fitting' | 'advising';

export async function measurePhotographs(request: MeasureRequest): Promise<UnwordedReading> {
  const { house, softwareVersion, onStage } = request;
  const aspect = request.aspect ?? house?.screen.picture_aspect ?? DEFAULT_ASPECT;
  const chart = layoutChart(aspect);
  const refuse = (files: readonly RolePhoto[]) => (refusal: Refusal<string>, role: PhotographRole | null) =>
    composeRefused(softwareVersion, files, refusal, role);

  onStage?.('reading');
  const looks: Look[] = [];
  const reading = readPhotographs(request.photographs, ({ photo }, index) => {
    // Each photograph is looked at while the next one is still being decoded.
    looks[index] = examineQuickly(photo.pixels, chart);
  });
  // What causes would look like needs no photograph: computed while the first one is being decoded.
  forecastLight();
  const read = await reading;
  if (read.outcome === 'refused') return refuse(read.files)(read.refusal, read.role);
  const refused = refuse(read.photographs);

  onStage?.('looking');
  const sorted = sortOut(await examineAll(read.photographs, looks, chart), request.isOrderGiven ?? false);
  if (sorted.outcome === 'refused') return refused(sorted.refusal, sorted.role);
  const { photographs, leftOut } = sorted;

  onStage?.('comparing');
  const bare = relateBare(photographs, { house, aspect });
  if (bare?.outcome === 'refused') return refused(bare, 'bare');

  const compared = compareLenses(photographs, chart, { ...request, relation: bare && homographiesOf(bare) });
  if (compared?.outcome === 'refused') return refused(compared.refusal, compared.role);
  onStage?.('fitting');
  const relation = bare ?? relatePair(photographs, compared!, { house, aspect, wander_px: request.wander_px });
  if (relation.outcome === 'refused') return refused(relation, null);
  const { misalignment } = relation;
  const implausible = judgePair(relation.fit, misalignment) ?? judgePlaces(relation, photographs);
  if (implausible) return refused(implausible, null);

  onStage?.('advising');
  const eyes = compared?.eyes;
  const crosstalkSurvey = compared && surveyCrosstalk(compared.matrix.maps, aspect);
  const judged = { misalignment, eyes, crosstalkSurvey, strays: compared?.strays, house, aspect };
  const findings = judge(judged);
  const upperPortShows = house?.attachment?.upper_port_shows ?? 'right';
  const diagnosis = diagnose({ ...judged, upperPortShows }, findings);
  const advice = advise({ misalignment, house, aspect, eyesExchanged: eyes?.assignment === 'swapped' });
  return composeMeasured({
    softwareVersion,
    photographs,
    leftOut,
    house,
    chart,
    compared,
    relation,
    findings,
    diagnosis,
    advice,
  });
}

async function examineAll(
  photographs: readonly RolePhoto[],
  looks: readonly Look[],
  chart: Chart,
): Promise<readonly LookedAt[]> {
  const examined: LookedAt[] = [];
  for (const [index, { role, photo }] of photographs.entries()) {
    examined.push({ role, photo, look: await examineThoroughly(photo.pixels, chart, looks[index]) });
  }
  return examined;
}
