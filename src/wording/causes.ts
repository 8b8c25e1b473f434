/** What may be wrong, what cures it, the figures that speak for it, and the checks that tell causes apart. */
import type { Diagnosis, ReadingCause } from '../record/diagnosis.ts';
import { openTopic } from './catalogue.ts';
import ofCauses from './en/causes.json' with { type: 'json' };
import ofChecks from './en/checks.json' with { type: 'json' };
import { decimalsForUncertainty, formatFigures, formatNumber } from './numbers.ts';

const causes = openTopic(ofCauses);
const checks = openTopic(ofChecks);

export const CAUSE_CODES: readonly string[] = causes.keys
  .filter((key) => key.endsWith('.remedy'))
  .map((key) => key.slice(0, -'.remedy'.length));

/** Throws RangeError on an unknown code, as `translateRefusal` does. */
export function translateCause({ code, evidence }: Pick<ReadingCause, 'code' | 'evidence'>): string {
  const figures = evidence.map(({ name, value }) => [
    name,
    typeof value === 'number' ? formatFigures(Math.abs(value)) : value,
  ]);
  const place = evidence.find(({ name }) => name === 'place')?.value;
  return causes.translateCode(code, {
    ...Object.fromEntries(figures),
    place:
      place === undefined
        ? undefined
        : causes.has(`place.${place}`)
          ? causes.translate(`place.${place}` as never)
          : place,
  });
}

export function translateRemedy(code: string): string {
  return causes.translateCode(`${code}.remedy`);
}

/** Says of a group that it is one; two faults at once are allowed for too, so that the chances may add up to more than 100 %. */
export function introduceGroup(): string {
  return causes.translate('one-of-these');
}

/** From here on a cause is called likely, and possible. Our choice. */
const LIKELY = 0.5;
const POSSIBLE = 0.1;

/** "likely (83 %)", never as certain as 0 or 100; null for readings without it. */
export function formatProbability({ probability }: Pick<ReadingCause, 'probability'>): string | null {
  if (probability === undefined) return null;
  const percent =
    probability > 0.99
      ? causes.translate('probability.over')
      : probability < 0.01
        ? causes.translate('probability.under')
        : causes.translate('probability.percent', { percent: Math.round(100 * probability) });
  const word = probability >= LIKELY ? 'likely' : probability >= POSSIBLE ? 'possible' : 'unlikely';
  return causes.translate('probability', { word, percent });
}

const EVIDENCE = 'evidence.';
export const EVIDENCE_NAMES: readonly string[] = causes.keys
  .filter((key) => key.startsWith(EVIDENCE))
  .map((key) => key.slice(EVIDENCE.length))
  .filter((name) => !name.endsWith('.turned'));

/** "ghost through the left lens: 1.9 %"; null for words that the cause's sentence has already said. */
export function formatEvidence(evidence: ReadingCause['evidence'][number]): string | null {
  if (typeof evidence.value === 'string') return null;
  const { name, value, u } = turnRound({ ...evidence, value: evidence.value });
  const decimals = decimalsForUncertainty(2 * (u ?? 0));
  const figure =
    u === undefined
      ? formatFigures(value)
      : causes.translate('interval', { value: formatNumber(value, decimals), doubt: formatNumber(2 * u, decimals) });
  const key = `${EVIDENCE}${name}`;
  return causes.translate('evidence', {
    name: causes.has(key) ? causes.translate(key) : name.replaceAll('_', ' '),
    figure,
    unit: name.replace('.turned', '').split('_').at(-1),
  });
}

interface Figure {
  readonly name: string;
  readonly value: number;
  readonly u?: number | undefined;
}

/** A ratio above 100 % says more the other way round: the weaker picture over the stronger one. */
function turnRound(figure: Figure): Figure {
  const { name, value, u } = figure;
  const turned = `${name}.turned`;
  if (value <= 100 || !causes.has(`${EVIDENCE}${turned}`)) return figure;
  return { name: turned, value: 1e4 / value, u: u === undefined ? undefined : (1e4 * u) / value ** 2 };
}

export const MANY_TIMES = 10;

export interface CauseGroup<C> {
  readonly causes: readonly C[];
  /** The text has to say that it is one of these and not which. */
  readonly isUndecided: boolean;
}

type Grouped = Pick<ReadingCause, 'code' | 'probability' | 'undecided' | 'explains'>;

/**
 * Causes that one measurement cannot tell apart stand together, so that nobody takes the first of them for the answer.
 *
 * A group begins with the likeliest cause that is left; where that one is undecided, every other undecided cause joins
 * that explains a finding of its and is not `MANY_TIMES` less likely.
 */
export function groupCauses<C extends Grouped>(causes: readonly C[]): CauseGroup<C>[] {
  const groups: CauseGroup<C>[] = [];
  let left = [...causes];
  while (left.length > 0) {
    const [first, ...others] = left as [C, ...C[]];
    const joined = first.undecided ? others.filter((other) => isAlike(first, other)) : [];
    groups.push({ causes: [first, ...joined], isUndecided: joined.length > 0 });
    left = others.filter((other) => !joined.includes(other));
  }
  return groups;
}

function isAlike(first: Grouped, other: Grouped): boolean {
  if (!other.undecided || (other.probability ?? 0) * MANY_TIMES < (first.probability ?? 1)) return false;
  const of = first.explains ?? [];
  const theirs = other.explains ?? [];
  return of.length === 0 || theirs.length === 0 || theirs.some((code) => of.includes(code));
}

export const CHECK_CODES: readonly string[] = checks.keys.filter((key) => !key.includes('.'));

/** What to do. Throws RangeError on an unknown code, as `translateRefusal` does. */
export function translateCheck(code: string): string {
  return checks.translateCode(code);
}

/** The checks that are still to be made, in the one order that every screen and report shows. */
export function listChecks(
  {
    causes: found,
    next_check,
  }: Pick<Diagnosis, 'causes'> & { readonly next_check?: Diagnosis['next_check'] | undefined },
  answered: readonly Pick<AnsweredCheck, 'check'>[] = [],
): string[] {
  const codes = [next_check?.code, ...found.map(({ check_code }) => check_code)];
  const made = new Set(answered.map(({ check }) => check));
  return [...new Set(codes)].filter((code) => code !== undefined).filter((code) => !made.has(code));
}

/** The answers that a check can have: code and words, the usual one first. */
export function listAnswers(code: string): { readonly answer: string; readonly words: string }[] {
  const answers = checks.keys.filter((key) => key.startsWith(`${code}.`));
  if (answers.length === 0) throw new RangeError(`no answers to the check "${code}"`);
  return answers.map((key) => ({ answer: key.slice(code.length + 1), words: checks.translate(key) }));
}

export interface AnsweredCheck {
  readonly check: string;
  readonly answer: string;
}

/** What a check has shown; the answer's code itself where this version knows no words for it. */
export function translateAnswer({ check, answer }: AnsweredCheck): string {
  const key = `${check}.${answer}`;
  return checks.has(key) ? checks.translate(key) : answer;
}

type CheckHazard = 'projector' | 'port' | 'film' | 'ladder';

/** Where a check sends people; the table of the findings has the same. */
const HAZARDS_OF_CHECKS: Readonly<Record<string, readonly CheckHazard[]>> = {
  'look-at-ports-through-glasses': ['port'],
  'turn-projector-polarizer': ['projector', 'port'],
  'look-at-film-in-gate': ['projector', 'film'],
  'look-at-frame-line-in-gate': ['projector', 'film'],
  'compare-with-port-glass-open': ['port', 'ladder'],
  'hold-metal-sheet-at-screen': ['ladder'],
  'measure-path-lengths': ['projector', 'port'],
  'loosen-mirror-clamps': ['projector', 'port'],
  'compare-lens-focal-lengths': ['projector', 'port'],
  'measure-attachment-squareness': ['projector', 'port'],
  'watch-stray-while-masking': ['projector', 'port'],
};

export function hazardsOfCheck(code: string): readonly CheckHazard[] {
  return HAZARDS_OF_CHECKS[code] ?? [];
}
