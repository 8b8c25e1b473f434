/** What the uncertainty of a figure is made of, what would shrink it, what lies beyond the terms, and what was not cancelled. */
import type { FigureBudget, MeasuredReading } from '../record/reading.ts';
import { REPORTED_FIELDS, type ReportedField } from '../record/term-fields.ts';
import { openTopic } from './catalogue.ts';
import messages from './en/uncertainty.json' with { type: 'json' };
import { decimalsForUncertainty, formatFigures, formatNumber } from './numbers.ts';
import { formatPlace, nameTerm } from './terms.ts';

const { keys, has, translate, translateCode } = openTopic(messages);

const codesUnder = (stem: string) => keys.filter((key) => key.startsWith(stem)).map((key) => key.slice(stem.length));
export const BUDGET_SOURCES: readonly string[] = codesUnder('source.');
export const BUDGET_BASES: readonly string[] = codesUnder('basis.');

/** A code of a newer version is shown as it stands: the number beside it counts all the same. */
const nameCode = (stem: string, code: string) => (has(`${stem}.${code}`) ? translateCode(`${stem}.${code}`) : code);

export const nameSource = (code: string): string => nameCode('source', code);
export const nameBasis = (code: string): string => nameCode('basis', code);

const REMEDIES: Readonly<Record<string, string>> = {
  marks: 'repeat',
  repeats: 'repeat',
  'shared-errors': 'shared',
  'print-marks': 'print',
  'print-eyes': 'eyes',
  'film-jump': 'bare',
  'film-weave': 'bare',
  'film-turn': 'bare',
  'film-shift-scaled': 'repeat',
  'filter-wedge': 'bare',
  'filter-waves': 'bare',
  movement: 'bare',
  rounding: 'none',
};

/** The one thing that would shrink the uncertainty most: sources with the same remedy count together. Null where nothing is known. */
export function suggestShrinking({ lines }: FigureBudget): string | null {
  const shares = new Map<string, number>();
  // What the film does within one exposure another photograph shows anew.
  const isOneExposure = lines.some(({ source }) => source === 'film-shift-scaled');
  for (const { source, share_pct } of lines) {
    const remedy = isOneExposure && source === 'film-turn' ? 'repeat' : REMEDIES[source];
    if (remedy !== undefined) shares.set(remedy, (shares.get(remedy) ?? 0) + share_pct);
  }
  const [lead] = [...shares].toSorted(([, a], [, b]) => b - a);
  if (!lead) return null;
  return translateCode(`remedy.${lead[0]}`);
}

/** "Vertical offset: 52 % of the variance comes from film jump." */
export function formatLead({ figure, lines }: FigureBudget): string | null {
  const [first] = lines;
  if (!first || !isReportedField(figure)) return null;
  return translate('leads', {
    figure: nameTerm(figure),
    source: lowerFirst(nameSource(first.source)),
    share: formatShare(first.share_pct),
  });
}

const lowerFirst = (name: string) => name.charAt(0).toLowerCase() + name.slice(1);

export function isReportedField(figure: string): figure is ReportedField {
  return (REPORTED_FIELDS as readonly string[]).includes(figure);
}

/** From here on Student's factor is the normal distribution's, to three digits. */
const MANY_DEGREES = 1000;

/** Percent of the combined variance. */
export function formatShare(share_pct: number): string {
  return share_pct < 0.5 ? translate('less-than', { number: 1 }) : formatNumber(share_pct, 0);
}

export function formatDegrees(degrees: number | null): string {
  return degrees === null || degrees > MANY_DEGREES
    ? translate('degrees.unlimited')
    : formatFigures(Math.max(1, Math.floor(degrees)), 6, 0);
}

/** A contribution in two figures, in as many places as the budget needs: what is nothing beside the rest is less than one of the last. */
export function formatContribution(u: number, decimals: number): string {
  const shown = formatFigures(u, 2, decimals);
  return Number(shown) === 0 ? translate('less-than', { number: formatNumber(10 ** -decimals, decimals) }) : shown;
}

/** "± 0.00026 repeatable": of what changes from one set of photographs to the next. */
export function formatRepeatable(u_repeat: number): string {
  return translate('repeatable', { amount: formatFigures(2 * u_repeat, 2) });
}

/** "at most 0.11": an amount that does not stand clear of zero has no interval to either side. */
export function formatAtMost(value: number, u: number): string {
  return translate('at-most', { amount: formatNumber(Math.abs(value) + 2 * u, decimalsForUncertainty(2 * u)) });
}

/** The largest vertical error is an amount: near zero, value ± 2u would reach below it. */
export function isAmountNearZero(field: ReportedField, value: number, u: number): boolean {
  return field === 'worst_vertical_pct' && Math.abs(value) < 2 * u;
}

export interface RemainderWords {
  /** It stands clear of its uncertainty. */
  readonly isClear: boolean;
  readonly sentence: string;
  /** Null where it does not stand clear. */
  readonly reasons: string | null;
}

/** Null for readings of versions that did not look for it. */
export function describeRemainder({ misalignment, house }: MeasuredReading): RemainderWords | null {
  const remainder = misalignment.remainder_pct;
  if (!remainder) return null;
  const { value, u, at } = remainder;
  if (!(value > 2 * u)) {
    const sentence = translate('remainder.faint', { max: formatFigures(value + 2 * u) });
    return { isClear: false, sentence, reasons: null };
  }
  const decimals = decimalsForUncertainty(2 * u);
  const sentence = translate('remainder.clear', {
    value: formatNumber(value, decimals),
    doubt: formatNumber(2 * u, decimals),
    place: formatPlace(at, house.aspect),
  });
  return { isClear: true, sentence, reasons: translate('remainder.reasons') };
}

/** What stays in every figure of this reading. Null for readings of versions that did not tell the exposures apart. */
export function describeUncancelled({ geometry_from, budget = [], pair_check }: MeasuredReading): string | null {
  if (!geometry_from) return null;
  const counted = budget.flatMap(({ lines }) => lines.filter(({ u }) => u > 0));
  const sources = new Set(counted.map(({ source }) => source));
  const isTwo = geometry_from === 'two-exposures';
  const parts = [
    'print',
    ...(!isTwo && sources.has('film-turn') ? ['turn'] : []),
    ...(isTwo && sources.has('movement') ? ['movement'] : []),
    ...(isTwo && !sources.has('movement') && !sources.has('repeats') ? ['film'] : []),
    ...(isTwo && !sources.has('movement') ? ['filter'] : []),
    ...(isTwo ? ['camera'] : []),
  ].map((part) => translateCode(`uncancelled.${part}`));
  const last = parts.pop();
  const errors = parts.length === 0 ? last : translate('uncancelled.and', { first: parts.join(', '), last });
  const sentence = translate('uncancelled', { errors });
  if (isTwo) return sentence;
  const one = translate('uncancelled.one', { errors: sentence });
  // Where it does not agree a warning says so.
  if (!pair_check || pair_check.apart_pct > pair_check.limit_pct) return one;
  return translate('uncancelled.pair', { errors: one, apart: formatFigures(pair_check.apart_pct) });
}
