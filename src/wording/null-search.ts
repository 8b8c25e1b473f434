/** A null search in words: what to turn, which way and how far, and what is left there. */
import type { FoundNullSearch, NullSearchRecord, UnwordedNullSearch } from '../record/null-search.ts';
import { chooseCautions } from './cautions.ts';
import { translateNullRefusal } from './null-refusals.ts';
import { decimalsForUncertainty, formatFigures, formatNumber } from './numbers.ts';

type Found = Extract<UnwordedNullSearch, { outcome: 'found' }>;
type Measured = FoundNullSearch['least_leak_pct'];

const NOTES: Readonly<Record<string, string>> = {
  'exposure-differs':
    'The photographs were not exposed alike: the ghosts are parts of their own photographs, so this does no harm as long as none is dark or burnt out.',
  'exposure-unknown': 'The files do not tell how they were exposed; it should be set by hand, alike for all of them.',
  'tone-curve-bent':
    'The camera bends the tones of its photographs: trust the place of the null where it lies near the middle of the turns, and take the strength of the ghosts as rough.',
  'tone-curve-unknown':
    'The grey steps could not be measured, so that nothing is known of the camera’s tone curve; set the camera to its plainest picture style.',
  'shots-disagree':
    'The photographs scatter more about the curve than they should, and the uncertainties are widened for it: see that every turn is as noted, and that camera, film and lamp stay as they are.',
};

export const NULL_NOTE_CODES: readonly string[] = Object.keys(NOTES);

/** Throws RangeError on a code without wording: that is a fault of the program. */
export function translateNullSearch(search: UnwordedNullSearch): NullSearchRecord {
  if (search.outcome === 'refused') {
    const { code, facts, file } = search.refusal;
    return { ...search, refusal: { code, ...translateNullRefusal(code, facts), file, facts } };
  }
  return {
    ...search,
    sentence: composeNullSentence(search),
    notes: search.notes.map((code) => ({ code, message: translateNullNote(code) })),
    cautions: chooseCautions({
      atProjector: search.turned === 'polarizer',
      atHeight: false,
      atPolarizer: search.turned === 'polarizer',
    }),
  };
}

export function translateNullNote(code: string): string {
  const words = NOTES[code];
  if (words === undefined) throw new RangeError(`no wording for the note "${code}"`);
  return words;
}

/** What is turned: `the polarizer of the right-eye picture`. */
export function nameTurned({ turned, lens }: Pick<Found, 'turned' | 'lens'>): string {
  return turned === 'glasses'
    ? 'the glasses'
    : `the polarizer of the ${lens === 'left' ? 'right' : 'left'}-eye picture`;
}

export function composeNullSentence(search: Found): string {
  const thing = nameTurned(search);
  const Thing = `T${thing.slice(1)}`;
  const isSeveral = search.turned === 'glasses';
  switch (search.verdict) {
    case 'at-null':
      return `${Thing} ${isSeveral ? 'stand' : 'stands'} at the null to within ${formatDoubt(search)}: leave ${isSeveral ? 'them' : 'it'}.`;
    case 'uncertain':
      return `The null is known only to within ${formatDoubt(search)}: photograph again with turns of fifteen degrees to either side.`;
    case 'turn':
      return `Turn ${thing} ${formatWay(search)}: the ghost through the ${search.lens} lens falls ${formatFall(search)}.`;
    case 'go-on':
      return `Turn ${thing} ${formatWay(search)}, beyond the turns that were tried, and photograph a new series around that place.`;
  }
}

/** `4.1° further, to 3.2° on your scale (± 0.3°)`. */
function formatWay(search: Found): string {
  const { further_deg, further_steps, null_deg, shots } = search;
  if (null_deg && further_deg) {
    const decimals = angleDecimals(further_deg);
    const [last, before] = [shots[shots.length - 1]!, shots[shots.length - 2]!];
    const isOnward = Math.sign(further_deg.value) === Math.sign(last.turn_deg! - before.turn_deg!);
    return `${formatNumber(Math.abs(further_deg.value), decimals)}° ${isOnward ? 'further' : 'back'}, to ${formatNumber(null_deg.value, decimals)}° on your scale (± ${formatNumber(2 * null_deg.u, decimals)}°)`;
  }
  const steps = further_steps!;
  const decimals = Math.min(2, decimalsForUncertainty(2 * steps.u));
  const way = steps.value < 0 ? 'back' : 'further';
  const count = formatNumber(Math.abs(steps.value), decimals);
  const degrees = further_deg
    ? `, about ${formatNumber(Math.abs(further_deg.value), angleDecimals(further_deg))}°`
    : '';
  return `${count} ${Number(count) === 1 ? 'step' : 'steps'} ${way} (± ${formatNumber(2 * steps.u, decimals)}${degrees})`;
}

function formatDoubt({ further_deg, further_steps }: Found): string {
  if (further_deg) return `${formatFigures(2 * further_deg.u, 2, 1)}°`;
  return `${formatFigures(2 * further_steps!.u, 2, 2)} steps`;
}

function formatFall({ shots, least_leak_pct }: Found): string {
  const now = shots[shots.length - 1]!.leak_pct;
  return `from ${formatLeak(now)} to ${formatLeak(least_leak_pct)}`;
}

/** A ghost is never less than nothing. */
export function formatLeak({ value, u }: Measured): string {
  return `${formatNumber(Math.max(0, value), Math.min(2, decimalsForUncertainty(u)))} %`;
}

/** `1.23 ± 0.05 %` */
export function formatLeakWithDoubt({ value, u }: Measured): string {
  const decimals = Math.min(2, decimalsForUncertainty(u));
  return `${formatNumber(value, decimals)} ± ${formatNumber(2 * u, decimals)} %`;
}

function angleDecimals({ u }: Measured): number {
  return Math.min(1, decimalsForUncertainty(u));
}
