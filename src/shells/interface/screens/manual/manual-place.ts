/** Which page of the manual is open, and where in it; it stands in the page's address. */
import type { ScreenName } from '../../frame/screens.ts';

export interface ManualPlace {
  /** Name of the page's file without its ending, such as `house` or `developers/benchmarks`. */
  readonly page: string;
  /** Of a heading; left out for the page's beginning. */
  readonly anchor?: string | undefined;
}

export const INDEX = 'README';

export const addressOfPage = ({ page, anchor }: ManualPlace): string =>
  `#/manual/${page}${anchor === undefined ? '' : `~${anchor}`}`;

/** The index for addresses that name no page. */
export function readManualPlace(fragment: string): ManualPlace {
  const [, path = ''] = /^#\/manual\/(.+)$/.exec(decodeURI(fragment)) ?? [];
  const [page, anchor] = path.split('~');
  return { page: page || INDEX, ...(anchor && { anchor }) };
}

/** The page that explains a screen. */
const PAGE_OF_SCREEN: Readonly<Record<ScreenName, ManualPlace>> = {
  house: { page: 'house' },
  shots: { page: 'desktop', anchor: 'camera-and-tripod' },
  reading: { page: 'reading', anchor: 'reading' },
  turns: { page: 'reading', anchor: 'turns' },
  booth: { page: 'reading', anchor: 'booth-view' },
  polarizers: { page: 'polarizers' },
  light: { page: 'light' },
  logbook: { page: 'logbook', anchor: 'on-the-desktop' },
  manual: { page: INDEX },
  about: { page: INDEX },
};

export const pageOfScreen = (screen: ScreenName): ManualPlace => PAGE_OF_SCREEN[screen];

export function showManual(from: ScreenName): void {
  location.hash = addressOfPage(pageOfScreen(from));
}

/** Where a link of a page leads: to a page of the manual, or out of it. */
export function resolveLink(from: string, link: string): ManualPlace | undefined {
  if (/^[a-z]+:/i.test(link)) return undefined;
  const [file = '', anchor] = link.split('#');
  if (file === '') return { page: from, anchor };
  if (!file.endsWith('.md')) return undefined;
  const parts = from.split('/').slice(0, -1);
  for (const part of file.replace(/\.md$/, '').split('/')) {
    if (part !== '..') parts.push(part);
    else if (parts.pop() === undefined) return undefined;
  }
  return { page: parts.join('/'), anchor };
}
