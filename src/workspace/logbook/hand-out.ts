/** What leaves the logbook as files: photographs, reports on screen and paper, tables, entries as they were kept. */
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import type { EntryFile, PairFile, TrendsFile } from '../../contract/addresses.ts';
import type { Outcome } from '../../contract/failures.ts';
import type { LogbookQuery, Paper } from '../../contract/logbook.ts';
import type { Engine } from '../../engine/engine.ts';
import { compareEntries } from '../../logbook/compare-entries.ts';
import type { FoundEntry, Logbook } from '../../logbook/logbook.ts';
import { renderEntriesCsv } from '../../report/csv/entries-csv.ts';
import { renderTrendsCsv } from '../../report/csv/trends-csv.ts';
import { renderComparisonReport } from '../../report/html/comparison-report.ts';
import type { ReportPictures } from '../../report/html/pictures.ts';
import { renderHtmlReport } from '../../report/html/render-html.ts';
import { renderTrendsReport } from '../../report/html/trends-report.ts';
import { translateFailure } from '../../wording/failures.ts';
import { translateRefusal } from '../../wording/refusals.ts';
import { drawPictures } from '../compose-report.ts';
import type { HandedFile, PrintPdf, ShownPhotograph } from '../work.ts';
import type { LogbookDesk } from './logbook-desk.ts';
import { refuseInWords } from './word-refused.ts';
import { SHA256_PATTERN } from '../../record/values.ts';
import { LENS_ROLES } from '../../record/roles.ts';

export interface HandOutOrder {
  readonly logbook: LogbookDesk;
  readonly engine: Engine;
  readonly printPdf: PrintPdf;
  readonly softwareVersion: string;
  readonly now: () => Date;
}

const HTML = 'text/html; charset=utf-8';
const HORIZON_DAYS = 90;

export class HandOut {
  readonly #order: HandOutOrder;

  constructor(order: HandOutOrder) {
    this.#order = order;
  }

  /** Only what is what its name says. */
  viewPhotograph(sha256: string, width?: number): Promise<Outcome<ShownPhotograph>> {
    const gone = (): Outcome<never> => ({ ok: false, failure: translateFailure('no-such-photograph') });
    return this.#order.logbook.ask(async (logbook): Promise<Outcome<ShownPhotograph>> => {
      const path = SHA256_PATTERN.test(sha256) ? await logbook.findPhotograph(sha256) : undefined;
      if (path === undefined) return gone();
      if ((await hashOf(path)) !== sha256)
        return refuseInWords({ outcome: 'refused', code: 'photograph-gone', facts: {} });
      const view = await this.#order.engine.viewPhotograph({ path, ...(width === undefined ? {} : { width }) });
      if (view.outcome === 'viewed') return { ok: true, value: view };
      return { ok: false, failure: { code: view.code, ...translateRefusal(view.code, view.facts, null) } };
    });
  }

  entryFile(id: string, file: EntryFile, paper: Paper): Promise<Outcome<HandedFile>> {
    return this.#order.logbook.ask(async (logbook): Promise<Outcome<HandedFile>> => {
      const found = await logbook.find(id);
      if (found.outcome === 'refused') return refuseInWords(found);
      const name = `twinplumb-${found.entry.saved_at.slice(0, 10)}-${found.id.slice(0, 8)}`;
      if (file === 'entry.json') return handOut(`${name}.json`, 'application/json', found.text);
      return this.#onScreenOrPaper(await this.drawEntry(found, logbook, paper), file, name);
    });
  }

  pairFile(before: string, after: string, file: PairFile, paper: Paper): Promise<Outcome<HandedFile>> {
    return this.#order.logbook.ask(async (logbook): Promise<Outcome<HandedFile>> => {
      const [first, second] = [await logbook.find(before), await logbook.find(after)];
      if (first.outcome === 'refused') return refuseInWords(first);
      if (second.outcome === 'refused') return refuseInWords(second);
      const comparison = compareEntries(first, second);
      if (comparison.outcome === 'not-measured') return { ok: false, failure: translateFailure('nothing-to-compare') };
      const name = `twinplumb-before-after-${second.entry.saved_at.slice(0, 10)}-${second.id.slice(0, 8)}`;
      if (file === 'comparison.json')
        return handOut(`${name}.json`, 'application/json', `${JSON.stringify(comparison)}\n`);
      const html = renderComparisonReport({
        comparison,
        before: { kept: first, pictures: await this.#drawPictures(first, logbook) },
        after: { kept: second, pictures: await this.#drawPictures(second, logbook) },
        paper,
      });
      return this.#onScreenOrPaper(html, file, name);
    });
  }

  async listFile(query: LogbookQuery): Promise<Outcome<HandedFile>> {
    const found = await this.#order.logbook.listAll(query);
    return found.ok
      ? handOut('twinplumb-entries.csv', 'text/csv; charset=utf-8', renderEntriesCsv(found.value))
      : found;
  }

  async trendsFile(query: LogbookQuery, file: TrendsFile, paper: Paper): Promise<Outcome<HandedFile>> {
    const { logbook, now, softwareVersion } = this.#order;
    const found = await logbook.trends(query, HORIZON_DAYS);
    if (!found.ok) return found;
    const { trends, houses } = found.value;
    if (file === 'trends.csv')
      return handOut('twinplumb-trends.csv', 'text/csv; charset=utf-8', renderTrendsCsv(trends));
    const html = renderTrendsReport({ trends, houses, at: now().toISOString(), softwareVersion, paper });
    return this.#onScreenOrPaper(html, file, 'twinplumb-trends');
  }

  async drawEntry(found: FoundEntry, logbook: Logbook, paper?: Paper): Promise<string> {
    return renderHtmlReport(
      { ...found.entry.reading, measured_at: found.entry.saved_at },
      await this.#drawPictures(found, logbook),
      { kept: found, paper },
    );
  }

  /** Undefined where a photograph is missing or altered: the numbers are whole all the same. */
  async #drawPictures({ entry }: FoundEntry, logbook: Logbook): Promise<ReportPictures | undefined> {
    if (entry.reading.outcome !== 'measured') return undefined;
    const paths: string[] = [];
    for (const role of LENS_ROLES) {
      const sha256 = entry.shots.find((shot) => shot.role === role)?.sha256 ?? '';
      const path = await logbook.findPhotograph(sha256);
      if (path === undefined || (await hashOf(path)) !== sha256) return undefined;
      paths.push(path);
    }
    return drawPictures(entry.reading, { left: paths[0]!, right: paths[1]! }, this.#order.engine);
  }

  async #onScreenOrPaper(html: string, file: 'report.html' | 'report.pdf', name: string): Promise<Outcome<HandedFile>> {
    if (file === 'report.html') return handOut(`${name}.html`, HTML, html);
    const printed = await this.#order.printPdf(html);
    return printed.ok ? handOut(`${name}.pdf`, 'application/pdf', printed.value) : printed;
  }
}

export function handOut(name: string, type: string, body: string | Uint8Array): Outcome<HandedFile> {
  return { ok: true, value: { name, type, body } };
}

async function hashOf(path: string): Promise<string> {
  return createHash('sha256')
    .update(await readFile(path))
    .digest('hex');
}
