/**
 * The reports of a reading, of an entry of the logbook, of before and after, and of trends, as HTML: the same for every
 * shell, which says only how pictures are made (in this process, or by an engine beside it).
 *
 * A photograph that the logbook no longer holds as it was leaves its report without pictures; the numbers are whole all the
 * same. What is damaged comes back with the report, for the shell to say.
 */
import { embedPictures, type Pictures, type PicturesRequest } from '../application/pictures/make-pictures.ts';
import type { TrendsRequest } from '../application/trends/list-trends.ts';
import { refuse } from '../kernel/refusal.ts';
import { findSoundPhotograph } from '../logbook/find-sound-photograph.ts';
import type { FoundEntry, Logbook, LogbookRefusal } from '../logbook/logbook.ts';
import type { EntrySummary } from '../record/entry-summary.ts';
import type { MeasuredReading, Reading } from '../record/reading.ts';
import type { ShotRole } from '../record/roles.ts';
import { listShownShots } from '../record/shown-shots.ts';
import type { Trend } from '../record/trend.ts';
import { renderComparisonReport } from '../report/html/comparison-report.tsx';
import type { Paper } from '../report/html/style.ts';
import type { ReportPictures } from '../report/html/pictures.ts';
import { renderHtmlReport, type ReportOptions } from '../report/html/render-html.tsx';
import { renderTrendsReport } from '../report/html/trends-report.tsx';
import { compareEntries } from '../logbook/compare-entries.ts';
import type { Comparison } from '../record/comparison.ts';

export type MakePictures = (request: PicturesRequest) => Promise<Pictures>;

export interface ReadingReportRequest {
  readonly reading: Reading;
  /** When it was measured: a reading itself has no clock, so that equal photographs give equal readings. */
  readonly at: string;
  /** Undefined where a photograph is missing: the report is made without pictures then. */
  readonly photographs: PicturesRequest['photographs'] | undefined;
  readonly options?: ReportOptions;
}

export interface LogbookReport {
  readonly html: string;
  /** Photographs that are missing or altered. */
  readonly damage: readonly LogbookRefusal[];
}

export async function composeReadingReport(
  { reading, at, photographs, options }: ReadingReportRequest,
  makePictures: MakePictures,
): Promise<string> {
  const pictures =
    reading.outcome === 'measured' && photographs ? await drawPictures(reading, photographs, makePictures) : undefined;
  return renderHtmlReport({ ...reading, measured_at: at }, pictures, options);
}

export async function composeEntryReport(
  logbook: Logbook,
  found: FoundEntry,
  { makePictures, paper }: { readonly makePictures: MakePictures; readonly paper?: Paper | undefined },
): Promise<LogbookReport> {
  const { reading, saved_at } = found.entry;
  const { pictures, damage } = await drawEntry(logbook, found, makePictures);
  return { html: renderHtmlReport({ ...reading, measured_at: saved_at }, pictures, { kept: found, paper }), damage };
}

export async function composePairReport(
  logbook: Logbook,
  { comparison, before, after }: ComparedPair,
  { makePictures, paper }: { readonly makePictures: MakePictures; readonly paper?: Paper | undefined },
): Promise<LogbookReport> {
  const first = await drawEntry(logbook, before, makePictures);
  const second = await drawEntry(logbook, after, makePictures);
  const html = renderComparisonReport({
    comparison,
    before: { kept: before, pictures: first.pictures },
    after: { kept: after, pictures: second.pictures },
    paper,
  });
  return { html, damage: [...first.damage, ...second.damage] };
}

export interface TrendsOfEntries {
  readonly trends: readonly Trend[];
  /** Houses among the entries: figures of several belong to no one machine. */
  readonly houses: readonly string[];
}

/** `list`: where the figures are worked out, on this thread or beside it. */
export async function describeTrends(
  summaries: readonly EntrySummary[],
  horizon_days: number,
  list: (request: TrendsRequest) => Promise<Trend[]> | Trend[],
): Promise<TrendsOfEntries> {
  const entries = summaries.map(({ id, saved_at, outcome, terms, limits, has_turns, follows }) => {
    return { id, saved_at, outcome, terms, limits, has_turns, follows };
  });
  return { trends: await list({ entries, horizon_days }), houses: listNames(summaries, 'house') };
}

/** Each name once, in the order of the alphabet. */
export function listNames(entries: readonly EntrySummary[], field: 'house' | 'print'): string[] {
  return [...new Set(entries.flatMap((entry) => entry[field] ?? []))].toSorted((a, b) => a.localeCompare(b));
}

export function composeTrendsReport(
  { trends, houses }: TrendsOfEntries,
  {
    at,
    softwareVersion,
    paper,
  }: { readonly at: Date; readonly softwareVersion: string; readonly paper?: Paper | undefined },
): string {
  return renderTrendsReport({ trends, houses, at: at.toISOString(), softwareVersion, paper });
}

async function drawEntry(
  logbook: Logbook,
  { id, entry: { reading, shots } }: FoundEntry,
  makePictures: MakePictures,
): Promise<{ readonly pictures?: ReportPictures; readonly damage: readonly LogbookRefusal[] }> {
  if (reading.outcome !== 'measured') return { damage: [] };
  const photographs: { role: ShotRole; path: string }[] = [];
  const damage: LogbookRefusal[] = [];
  for (const shown of listShownShots(reading)) {
    const alike = shots.filter(({ role }) => role === shown?.role);
    const shot = alike.find(({ sha256 }) => sha256 === shown?.sha256) ?? alike[0];
    const sound = shot
      ? await findSoundPhotograph(logbook, shot, id)
      : refuse('photograph-gone', { id, file: shown?.file ?? '' });
    if (sound.outcome === 'sound') photographs.push({ role: shown!.role, path: sound.path });
    else damage.push(sound);
  }
  if (damage.length > 0) return { damage };
  return { pictures: await drawPictures(reading, photographs, makePictures), damage };
}

async function drawPictures(
  reading: MeasuredReading,
  photographs: PicturesRequest['photographs'],
  makePictures: MakePictures,
): Promise<ReportPictures> {
  return embedPictures(await makePictures({ photographs, reading }));
}

/** Before and after: two entries of the logbook, looked up and compared. */
export interface ComparedPair {
  readonly outcome: 'compared';
  readonly comparison: Comparison;
  readonly before: FoundEntry;
  readonly after: FoundEntry;
}

/** `not-measured`: the entry of that identity holds a refusal. */
export async function comparePair(
  logbook: Logbook,
  before: string,
  after: string,
): Promise<ComparedPair | { readonly outcome: 'not-measured'; readonly id: string } | LogbookRefusal> {
  const [first, second] = [await logbook.find(before), await logbook.find(after)];
  if (first.outcome === 'refused') return first;
  if (second.outcome === 'refused') return second;
  const comparison = compareEntries(first, second);
  if (comparison.outcome === 'not-measured') return comparison;
  return { outcome: 'compared', comparison, before: first, after: second };
}
