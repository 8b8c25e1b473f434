/** The report of an entry, and its pictures, from the photographs that the logbook holds. */
import type { FoundEntry, Logbook } from '../../../logbook/logbook.ts';
import type { Paper } from '../../../report/html/document.ts';
import type { ReportPictures } from '../../../report/html/pictures.ts';
import { collectPictures, composeReport, type PhotographPaths } from '../write-report.ts';

export async function composeEntryReport(logbook: Logbook, found: FoundEntry, paper?: Paper): Promise<string> {
  const { entry } = found;
  return composeReport(entry.reading, await findPaths(logbook, found), entry.saved_at, { kept: found, paper });
}

/** Undefined where the entry holds a refusal. */
export async function drawEntryPictures(logbook: Logbook, found: FoundEntry): Promise<ReportPictures | undefined> {
  const { reading } = found.entry;
  return reading.outcome === 'measured' ? collectPictures(reading, await findPaths(logbook, found)) : undefined;
}

async function findPaths(logbook: Logbook, { entry }: FoundEntry): Promise<PhotographPaths> {
  const pathOf = (role: string) => logbook.findPhotograph(entry.shots.find((shot) => shot.role === role)?.sha256 ?? '');
  const [left = '', right = ''] = [await pathOf('left-lens'), await pathOf('right-lens')];
  return { left, right };
}
