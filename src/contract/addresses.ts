/**
 * The addresses at which a shell answers, the same on the desktop's own protocol and on the browser host.
 *
 *   POST /call/<procedure>                      JSON in, an outcome in JSON out
 *   GET  /events                                events, one JSON object per line, for as long as the page listens
 *   POST /photographs/<set>/<role>?name=        the bytes of a photograph, for a set of the work; an outcome with the workspace;
 *                                               `&repeat=1`: beside the shots of that role, not in their place
 *   POST /live/frame?serial=&width=&height=&range=   luma bytes; an outcome with a frame's verdict
 *   GET  /photographs/<sha256>                  the photograph at full resolution, in a form a browser shows
 *   GET  /photographs/<sha256>?width=<px>       a smaller view of it
 *   GET  /rounds/<number>/report.html           the report as a file
 *   GET  /rounds/<number>/report.pdf?paper=     the same on A4 (`a4`) or Letter (`letter`)
 *   GET  /rounds/<number>/reading.json          the reading as the command line prints it
 *
 *   POST /logbook/photographs?name=             the bytes of a photograph that will be added with a note
 *   POST /logbook/bundles?name=                 the bytes of a bundle; an outcome with the job that imports it
 *   GET  /logbook/photographs/<sha256>          a photograph of the logbook; `?width=` as above
 *   GET  /logbook/bundles/<job>                 the bundle that an export made
 *   GET  /logbook/entries/<id>/<file>           report.html, report.pdf, entry.json
 *   GET  /logbook/pairs/<before>/<after>/<file> report.html, report.pdf, comparison.json
 *   GET  /logbook/list/entries.csv?<query>      what a search found
 *   GET  /logbook/trends/<file>?<query>         trends.csv, report.html, report.pdf
 *
 *   GET  anything else                          the interface's own files
 */
import type { FrameHeader } from './live.ts';
import type { LogbookQuery, Paper } from './logbook.ts';
import type { ProcedureName } from './procedures.ts';
import type { PhotographPlace } from './shots.ts';

export const ENTRY_FILES = ['report.html', 'report.pdf', 'entry.json'] as const;
export type EntryFile = (typeof ENTRY_FILES)[number];
export const PAIR_FILES = ['report.html', 'report.pdf', 'comparison.json'] as const;
export type PairFile = (typeof PAIR_FILES)[number];
export const TRENDS_FILES = ['trends.csv', 'report.html', 'report.pdf'] as const;
export type TrendsFile = (typeof TRENDS_FILES)[number];

export const ADDRESSES = {
  call: (name: ProcedureName) => `/call/${name}`,
  events: '/events',
  addPhotograph: (place: PhotographPlace, name: string) => {
    const beside = place.set === 'shots' && place.is_repeat ? '&repeat=1' : '';
    return `/photographs/${place.set}/${place.role}?name=${encodeURIComponent(name)}${beside}`;
  },
  frame: ({ serial, width, height, range }: FrameHeader) =>
    `/live/frame?serial=${serial}&width=${width}&height=${height}&range=${range}`,
  photograph: (sha256: string, width?: number) =>
    `/photographs/${sha256}${width === undefined ? '' : `?width=${width}`}`,
  report: (round: number) => `/rounds/${round}/report.html`,
  reading: (round: number) => `/rounds/${round}/reading.json`,
  pdf: (round: number, paper: Paper) => `/rounds/${round}/report.pdf?paper=${paper}`,
  logbook: {
    addPhotograph: (name: string) => `/logbook/photographs?name=${encodeURIComponent(name)}`,
    importBundle: (name: string) => `/logbook/bundles?name=${encodeURIComponent(name)}`,
    photograph: (sha256: string, width?: number) =>
      `/logbook/photographs/${sha256}${width === undefined ? '' : `?width=${width}`}`,
    bundle: (job: number) => `/logbook/bundles/${job}`,
    entry: (id: string, file: EntryFile, paper?: Paper) => `/logbook/entries/${id}/${file}${onPaper(paper)}`,
    pair: (before: string, after: string, file: PairFile, paper?: Paper) =>
      `/logbook/pairs/${before}/${after}/${file}${onPaper(paper)}`,
    list: (query: LogbookQuery) => `/logbook/list/entries.csv${asQuery(query)}`,
    trends: (query: LogbookQuery, file: TrendsFile, paper?: Paper) =>
      `/logbook/trends/${file}${asQuery({ ...query, paper })}`,
  },
} as const;

function onPaper(paper: Paper | undefined): string {
  return asQuery({ paper });
}

function asQuery(values: Readonly<Record<string, string | boolean | undefined>>): string {
  const parts = Object.entries(values).flatMap(([name, value]) =>
    value === undefined ? [] : [`${name}=${encodeURIComponent(value)}`],
  );
  return parts.length === 0 ? '' : `?${parts.join('&')}`;
}

/** Largest body of a photograph; larger ones are refused before they are read. */
export const MAX_PHOTOGRAPH_BYTES = 256 * 2 ** 20;
/** Largest body of a call. */
export const MAX_CALL_BYTES = 2 ** 20;
/** Largest body of a bundle. */
export const MAX_BUNDLE_BYTES = 1024 * 2 ** 20;
