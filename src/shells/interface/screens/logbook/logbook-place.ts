/** Where one is in the logbook; it stands in the page's address, so that the way back is the browser's own. */
import type { OverallVerdict } from '../../../../record/values.ts';
import type { LogbookQuery } from '../../../../contract/logbook.ts';
import type { Round } from '../../../../contract/workspace.ts';

const ID = /^[0-9a-f]{64}$/;

export type LogbookPlace =
  | { readonly view: 'entries' | 'trends' | 'care' }
  | { readonly view: 'entry'; readonly id: string }
  | { readonly view: 'pair'; readonly before: string; readonly after: string };

export function addressOfPlace(place: LogbookPlace): string {
  switch (place.view) {
    case 'entry':
      return `#/logbook/entry/${place.id}`;
    case 'pair':
      return `#/logbook/pair/${place.before}/${place.after}`;
    case 'entries':
      return '#/logbook';
    default:
      return `#/logbook/${place.view}`;
  }
}

/** The list for addresses that name no place. */
export function readPlace(fragment: string): LogbookPlace {
  const [, view, first = '', second = ''] = fragment.replace(/^#\//, '').split('/');
  if (view === 'trends' || view === 'care') return { view };
  if (view === 'entry' && ID.test(first)) return { view, id: first };
  if (view === 'pair' && ID.test(first) && ID.test(second)) return { view, before: first, after: second };
  return { view: 'entries' };
}

/** What is written into the fields of the search -> what is asked for. */

export interface QueryForm {
  readonly text: string;
  /** Empty: all. */
  readonly house: string;
  readonly print: string;
  readonly verdict: '' | OverallVerdict;
  readonly from: string;
  readonly to: string;
  readonly withReplaced: boolean;
}

export const EMPTY_QUERY: QueryForm = {
  text: '',
  house: '',
  print: '',
  verdict: '',
  from: '',
  to: '',
  withReplaced: false,
};

export function asQuery({ text, house, print, verdict, from, to, withReplaced }: QueryForm): LogbookQuery {
  return {
    ...(text.trim() && { text: text.trim().slice(0, 400) }),
    ...(house && { house }),
    ...(print && { print }),
    ...(verdict && { verdict }),
    ...(isDay(from) && { from }),
    ...(isDay(to) && { to }),
    ...(withReplaced && { with_replaced: true }),
  };
}

const isDay = (text: string) => /^\d{4}-\d{2}-\d{2}$/.test(text);

export const isAsking = (form: QueryForm): boolean => Object.keys(asQuery(form)).length > 0;

/** Which round is offered for keeping, and which entry it was measured after. */

export interface Offer {
  readonly round: Round;
  /** The entry of the last kept round before it; null where there is none. */
  readonly follows: string | null;
}

/** The rounds that are not kept yet, the newest first. */
export function listOffers(rounds: readonly Round[]): Offer[] {
  return rounds
    .filter((round) => round.kept_as == null)
    .map((round) => ({
      round,
      follows: rounds.findLast(({ number, kept_as }) => number < round.number && kept_as != null)?.kept_as ?? null,
    }))
    .reverse();
}
