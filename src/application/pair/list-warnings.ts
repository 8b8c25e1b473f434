/** What a reading says beside its numbers: marks that are missing or were left out, photographs that do not agree. */
import { isExposureTime, movementPrior } from '../../geometry/budget-priors.ts';
import { EYES, type Eye } from '../../kernel/eye.ts';
import type { House } from '../../record/house.ts';
import type { UnwordedMeasured } from '../../record/reading.ts';
import type { ExaminedPhotograph } from '../shot/examine-shot.ts';
import { MIN_PART_OF_MARKS } from '../shot/judge-shot.ts';
import type { LeftOut } from '../shot/sort-out.ts';
import { checkPair, lensesShowingBoth, unlikelyScatter, zoomsOf } from './check-mixture.ts';
import { choosePriors } from './choose-priors.ts';
import type { ComparedLenses } from './compare-lenses.ts';
import type { PictureRelation } from './relate-pictures.ts';

interface WarnedParts {
  readonly leftOut: readonly LeftOut[];
  readonly photographs: readonly ExaminedPhotograph[];
  readonly house: House | undefined;
  readonly chart: { readonly aspect: number };
  readonly compared: ComparedLenses | undefined;
  readonly relation: PictureRelation;
}

export function listWarnings(parts: WarnedParts, counts: UnwordedMeasured['marks']): UnwordedMeasured['warnings'] {
  const { relation, compared, house } = parts;
  const warnings: { code: string; facts: Record<string, number | string> }[] = [];
  const clipped = relation.marks.filter((mark) => mark.clipped).length;
  if (clipped > 0) warnings.push({ code: 'some-marks-clipped', facts: { clipped } });
  const seen = (eye: Eye) => new Set(relation.marks.filter((m) => m.eye === eye).map(({ mark }) => mark.id)).size;
  const rejected = seen('left') - counts.left + (seen('right') - counts.right);
  const missing = counts.expected_left - seen('left') + (counts.expected_right - seen('right'));
  if (
    seen('left') < MIN_PART_OF_MARKS * counts.expected_left ||
    seen('right') < MIN_PART_OF_MARKS * counts.expected_right
  ) {
    warnings.push({ code: 'marks-missing', facts: { missing } });
  }
  if (rejected > 0) warnings.push({ code: 'marks-rejected', facts: { rejected } });
  for (const { role, ...left } of parts.leftOut) {
    warnings.push({ code: 'photograph-left-out', facts: { role: role.replace('-lens', ''), ...left } });
  }
  if (relation.outlier) {
    const { role, number, file } = relation.outlier;
    warnings.push({ code: 'photograph-apart', facts: { role: role.replace('-lens', ''), number, file } });
  }
  const check = checkPair(relation, compared, parts.chart.aspect, house);
  if (check && check.apart_ih > check.limit_ih) {
    warnings.push({ code: 'pair-differs', facts: { apart_pct: 100 * check.apart_ih } });
  }
  const scatter_ih = unlikelyScatter(relation);
  if (scatter_ih !== undefined) warnings.push({ code: 'repeats-differ', facts: { scatter_pct: 100 * scatter_ih } });
  const zooms = zoomsOf(parts.photographs);
  if (zooms) warnings.push({ code: 'zooms-differ', facts: { ...zooms } });
  const showingBoth = compared ? lensesShowingBoth(compared) : [];
  if (showingBoth.length > 0) {
    warnings.push({ code: 'lens-shows-both', facts: { lens: showingBoth.length > 1 ? 'both' : showingBoth[0]! } });
  }
  if (relation.from === 'two-exposures') warnings.push({ code: 'two-exposures', facts: tellExposure(parts) });
  if (compared?.steadiness && isBeyondFilm(compared, parts)) {
    warnings.push({ code: 'camera-crept', facts: { moved_px: compared.steadiness.movement_px.value } });
  }
  if (!house) warnings.push({ code: 'house-assumed', facts: {} });
  return warnings;
}

/** Where film is counted by the frames of each exposure, whether these are known. */
function tellExposure({ relation, compared }: WarnedParts): { exposure?: 'missing' | 'absurd' } {
  const { lines } = relation.budget.terms.verticalOffset;
  const isCounted = lines.some(({ component, source }) => component === 'film-jump' && source !== 'frames');
  if (!isCounted || !compared) return {};
  const times = EYES.map((eye) => compared.photographs[eye].photo.camera.exposureTime_s);
  if (times.includes(undefined)) return { exposure: 'missing' };
  return times.some((time) => !isExposureTime(time!)) ? { exposure: 'absurd' } : {};
}

/** So many standard uncertainties of what film and glasses do are no matter of film any more. */
const UNLIKE_FILM = 3;

function isBeyondFilm({ movement_ih, photographs: { left, right } }: ComparedLenses, parts: WarnedParts): boolean {
  const exposures = { left: left.photo.camera, right: right.photo.camera };
  const { wedge, ...film } = choosePriors(parts.house, parts.chart.aspect, exposures);
  // The closing photograph is taken through the lens of the first one.
  const isClosed = parts.photographs.some(({ role }) => role === 'closing');
  const prior = movementPrior(isClosed ? film : { ...film, wedge });
  const usual = [0, 1].map((i) => Math.hypot(prior.film[i]!, prior.view[i]!));
  return movement_ih > UNLIKE_FILM * Math.max(...usual);
}
