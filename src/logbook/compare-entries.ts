/**
 * Before and after: what changed between two entries, and whether it is better.
 *
 * The change of a term is after minus before, with u^2 = u_before^2 + u_after^2: the photographs are other ones, so their
 * errors are independent. Its significance is the two-sided probability of so large a change by chance under a normal
 * distribution. Where nine figures are looked at, one in a dozen pairs would show a "significant" one by chance; so the
 * level of 5 % is shared among them after Holm (Scandinavian Journal of Statistics 6, 1979; from memory, unconfirmed).
 *
 * Better is what lies nearer to zero: |after| - |before|, by a tenth of its limit or more. A ghost, too, is better the
 * smaller it is.
 */
import { type Measured, subtractMeasured } from '../kernel/measured.ts';
import { normalCdf } from '../kernel/statistics.ts';
import type { Comparison, ComparisonDoubt, TermChange } from '../record/comparison.ts';
import type { Entry } from '../record/entry.ts';
import { TREND_FIELDS } from '../record/entry-summary.ts';
import { judgeOverall } from '../record/judge-reading.ts';
import { type LimitBand, limitBands, type TrendField } from '../record/limit-bands.ts';
import type { MeasuredReading } from '../record/reading.ts';
import { compareMasking } from './compare-masking.ts';

const SIGNIFICANCE = 0.05;

export interface ComparedEntry {
  readonly id: string;
  readonly entry: Entry;
}

/** `not-measured`: one of the two holds a refusal, and there is nothing to compare. */
export function compareEntries(
  before: ComparedEntry,
  after: ComparedEntry,
): Comparison | { readonly outcome: 'not-measured'; readonly id: string } {
  const [first, second] = [before.entry.reading, after.entry.reading];
  if (first.outcome === 'refused') return { outcome: 'not-measured', id: before.id };
  if (second.outcome === 'refused') return { outcome: 'not-measured', id: after.id };
  const bands = limitBands(second);
  const terms = shareSignificance(
    bands,
    TREND_FIELDS.flatMap((field) => {
      const isSamePrint = before.entry.print === after.entry.print;
      const [was, is] = [measuredIn(first, field, isSamePrint), measuredIn(second, field, isSamePrint)];
      return was && is ? [compareTerm(field, was, is)] : [];
    }),
  );
  return {
    outcome: 'compared',
    terms,
    verdict: judgeWhole(terms, bands),
    before: judgeOverall(first),
    after: judgeOverall(second),
    turns_made: after.entry.turns_made,
    doubts: findDoubts(before, after, first, second),
    masking: compareMasking(first, second),
  };
}

/** What both readings share (the print, the lens) drops out of a change, where it is the same print. */
function measuredIn({ misalignment, eyes }: MeasuredReading, field: TrendField, isSamePrint: boolean): Measured | null {
  // The weaker picture over the stronger one: of swapped eyes the other way round would be thousands of percent.
  if (field === 'crosstalk_left_pct') return eyes.leak_left_lens_pct;
  if (field === 'crosstalk_right_pct') return eyes.leak_right_lens_pct;
  const { value, u, u_repeat = u } = misalignment[field];
  return { value, u: isSamePrint ? u_repeat : u };
}

function compareTerm(field: TrendField, before: Measured, after: Measured): TermChange {
  const change = subtractMeasured(after, before);
  const z = change.u > 0 ? Math.abs(change.value) / change.u : change.value === 0 ? 0 : Infinity;
  return {
    field,
    before: { value: before.value, u: before.u },
    after: { value: after.value, u: after.u },
    change,
    chance: z === Infinity ? 0 : 2 * normalCdf(-z),
    isSignificant: false,
    verdict: 'same',
  };
}

/** The smallest chance must lie below 5 % over their number, the next below 5 % over one less, until one does not. */
function shareSignificance(bands: Bands, changes: readonly TermChange[]): TermChange[] {
  const order = changes.toSorted((a, b) => a.chance - b.chance);
  const failing = order.findIndex(({ chance }, rank) => chance > SIGNIFICANCE / (order.length - rank));
  const significant = new Set(order.slice(0, failing < 0 ? order.length : failing));
  return changes.map((change) =>
    significant.has(change) ? { ...change, isSignificant: true, verdict: judgeTerm(change, bands) } : change,
  );
}

type Bands = ReturnType<typeof limitBands>;

/** A change below this part of its limit matters to nobody. Our choice. */
const MATTERS_FROM = 0.1;

function judgeTerm({ field, before, after, change }: TermChange, bands: Bands): TermChange['verdict'] {
  const nearer = Math.abs(before.value) - Math.abs(after.value);
  if (Math.abs(nearer) <= 2 * change.u) return 'same';
  // What has no limit of its own is judged with the worst place.
  const { low, high } = bands[field] ?? bands.worst_vertical_pct ?? { low: null, high: null };
  const limit = Math.min(Math.abs(low ?? Number.POSITIVE_INFINITY), high ?? Number.POSITIVE_INFINITY);
  if (limit < Number.POSITIVE_INFINITY && Math.abs(nearer) < MATTERS_FROM * limit) return 'minor';
  return nearer > 0 ? 'better' : 'worse';
}

/** A term that got worse and still lies inside its limits does not spoil what was gained. */
function judgeWhole(terms: readonly TermChange[], bands: Bands): Comparison['verdict'] {
  const lead = terms.find(({ field }) => field === 'worst_vertical_pct')!.verdict;
  const others = new Set(terms.map(({ verdict }) => verdict));
  const isHarmed = terms.some((term) => term.verdict === 'worse' && isBeyond(term.after, bands[term.field]));
  if (lead === 'better') return isHarmed ? 'mixed' : 'improved';
  if (others.has('worse')) return others.has('better') ? 'mixed' : 'worsened';
  return others.has('better') ? 'improved' : 'no-significant-change';
}

/** Not surely inside. */
function isBeyond({ value, u }: Measured, band: LimitBand | undefined): boolean {
  const { low, high } = band ?? { low: null, high: null };
  return (high !== null && value + 2 * u > high) || (low !== null && value - 2 * u < low);
}

function findDoubts(
  before: ComparedEntry,
  after: ComparedEntry,
  first: MeasuredReading,
  second: MeasuredReading,
): ComparisonDoubt[] {
  const doubts: ComparisonDoubt[] = [];
  if (before.entry.house?.name !== after.entry.house?.name) doubts.push('other-house');
  if (first.house.aspect !== second.house.aspect) doubts.push('other-aspect');
  if (first.software.version !== second.software.version) doubts.push('other-version');
  if (after.entry.follows !== before.id) doubts.push('not-linked');
  if (Date.parse(after.entry.saved_at) < Date.parse(before.entry.saved_at)) doubts.push('in-time-reversed');
  return doubts;
}
