/** Where one is in the logbook; it stands in the page's address, so that the way back is the browser's own. */
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
