/** What is written into the fields of the search -> what is asked for. */
import type { LogbookQuery } from '../../../../contract/logbook.ts';

export interface QueryForm {
  readonly text: string;
  /** Empty: all. */
  readonly house: string;
  readonly print: string;
  readonly verdict: '' | 'within' | 'outside' | 'undecided';
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
