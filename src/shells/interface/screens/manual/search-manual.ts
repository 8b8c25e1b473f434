/** Finds the sections of the manual that hold the words of a question, the best first. */
import MiniSearch from 'minisearch';
import type { ManualPlace } from './manual-place.ts';
import { PAGES } from './pages.ts';

export interface Hit extends ManualPlace {
  readonly title: string;
  readonly heading: string;
  /** Where the words stand, cut into what is a word of the question and what is not. */
  readonly quote: readonly { readonly text: string; readonly isMatch: boolean }[];
}

const MAX_HITS = 20;
const QUOTE_LENGTH = 180;

let index: MiniSearch | undefined;

function openIndex(): MiniSearch {
  if (index) return index;
  index = new MiniSearch({
    fields: ['heading', 'title', 'text'],
    storeFields: ['page', 'title', 'heading', 'anchor', 'text'],
    searchOptions: { boost: { heading: 4, title: 2 }, prefix: true, combineWith: 'AND' },
  });
  for (const { page, title, sections } of PAGES) {
    index.addAll(sections.map((section) => ({ id: `${page}~${section.anchor}`, page, title, ...section })));
  }
  return index;
}

/** Empty for a question without words. Where nothing holds every word, what holds words like them. */
export function searchManual(question: string): Hit[] {
  const found = openIndex().search(question);
  const results = found.length > 0 ? found : openIndex().search(question, { fuzzy: 0.2, combineWith: 'OR' });
  return results.slice(0, MAX_HITS).map(({ page, title, heading, anchor, text, terms }) => ({
    page,
    title,
    heading,
    anchor,
    quote: quoteAround(text, terms),
  }));
}

function quoteAround(text: string, terms: readonly string[]): Hit['quote'] {
  const words = new RegExp(`(${terms.map((term) => term.replace(/[^\p{L}\p{N}]/gu, '\\$&')).join('|')})`, 'giu');
  const at = Math.max(0, text.search(words));
  const from = at < QUOTE_LENGTH / 3 ? 0 : text.indexOf(' ', at - QUOTE_LENGTH / 3) + 1;
  const cut = text.slice(from, from + QUOTE_LENGTH).replace(/\s+/g, ' ');
  const quote = `${from > 0 ? '… ' : ''}${cut}${from + QUOTE_LENGTH < text.length ? ' …' : ''}`;
  return quote.split(words).map((part, i) => ({ text: part, isMatch: i % 2 === 1 }));
}
