/** Which entries a question means. */
import type { OverallVerdict } from '../record/values.ts';
import type { EntrySummary } from '../record/entry-summary.ts';

export interface Query {
  /** Part of the house's or the print's name, in any case of letters. */
  readonly house?: string;
  readonly print?: string;
  /** Calendar days or moments, both included; a day is one of universal time. */
  readonly from?: string;
  readonly to?: string;
  readonly verdict?: OverallVerdict;
  /** Every word must occur somewhere in what people wrote or read. */
  readonly text?: string;
  /** Entries that were corrected by others are left out unless asked for. */
  readonly withReplaced?: boolean;
}

/** `notesOf`: notes that were added to an entry later. Newest first. */
export function searchEntries(
  summaries: readonly EntrySummary[],
  query: Query,
  notesOf: (id: string) => readonly string[],
): EntrySummary[] {
  const replaced = new Set(query.withReplaced ? [] : summaries.flatMap(({ replaces }) => replaces ?? []));
  const from = query.from === undefined ? -Infinity : startOf(query.from);
  const to = query.to === undefined ? Infinity : endOf(query.to);
  const words = fold(query.text ?? '')
    .split(/\s+/)
    .filter(Boolean);
  const house = query.house === undefined ? undefined : fold(query.house);
  const print = query.print === undefined ? undefined : fold(query.print);
  return summaries
    .filter((summary) => {
      if (replaced.has(summary.id)) return false;
      if (query.verdict !== undefined && summary.verdict !== query.verdict) return false;
      if (house !== undefined && !foldName(summary.house).includes(house)) return false;
      if (print !== undefined && !foldName(summary.print).includes(print)) return false;
      const at = momentOf(summary);
      if (at < from || at > to) return false;
      if (words.length === 0) return true;
      const own = wordsOf(summary);
      const added = fold(notesOf(summary.id).join('\n'));
      return words.every((word) => own.includes(word) || added.includes(word));
    })
    .toSorted(newestFirst);
}

export function newestFirst(a: EntrySummary, b: EntrySummary): number {
  return momentOf(b) - momentOf(a) || (a.id < b.id ? -1 : 1);
}

/** Worked out once for each summary, which never changes. */
const moments = new WeakMap<EntrySummary, number>();
const texts = new WeakMap<EntrySummary, string>();
const names = new Map<string, string>();

function momentOf(summary: EntrySummary): number {
  return remember(moments, summary, () => Date.parse(summary.saved_at));
}

function wordsOf(summary: EntrySummary): string {
  const { id, house, print, reel, operator, note, sentence } = summary;
  return remember(texts, summary, () =>
    fold([id, house, print, reel, operator, note, sentence].filter(Boolean).join('\n')),
  );
}

function foldName(name: string | null): string {
  return name === null ? '' : remember(names, name, () => fold(name));
}

function remember<K, V>(
  known: { get(key: K): V | undefined; set(key: K, value: V): unknown },
  key: K,
  make: () => V,
): V {
  const found = known.get(key);
  if (found !== undefined) return found;
  const value = make();
  known.set(key, value);
  return value;
}

/** What was asked for as a day is none. */
export class InvalidDate extends RangeError {
  readonly text: string;

  constructor(text: string) {
    super(`not a date: ${text}`);
    this.text = text;
  }
}

/** Throws InvalidDate. */
function startOf(text: string): number {
  const at = Date.parse(text);
  if (Number.isNaN(at)) throw new InvalidDate(text);
  return at;
}

function endOf(text: string): number {
  const at = startOf(text);
  return /^\d{4}-\d{2}-\d{2}$/.test(text) ? at + 86_400_000 - 1 : at;
}

/** Capital or not, composed or not, with its accents or without. */
function fold(text: string): string {
  return text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();
}
