/** What goes into the logbook and comes out of it as files: photographs, bundles, reports, tables, entries as they were kept. */
import type { EntryFile, PairFile, TrendsFile } from '../contract/addresses.ts';
import type { Outcome } from '../contract/failures.ts';
import type { LogbookQuery, Paper, WaitingPhotograph } from '../contract/logbook.ts';
import type { Engine } from '../engine/engine.ts';
import { findSoundPhotograph } from '../logbook/find-sound-photograph.ts';
import { SHA256_PATTERN } from '../record/values.ts';
import { nameEntryFile } from '../services/exchange.ts';
import { composeEntryReport, composePairReport, composeTrendsReport, type MakePictures } from '../services/reports.ts';
import { translateFailure } from '../wording/failures.ts';
import { translateRefusal } from '../wording/refusals.ts';
import { translateNotKept } from './current-state.ts';
import type { LogbookJobs } from './logbook-jobs.ts';
import { type LogbookService, refuseInWords } from './logbook-service.ts';
import type { PhotographStore } from './photograph-store.ts';
import type { ExportedFile, LogbookPort, PrintPdf, ShownPhotograph } from './work.ts';
import { cleanName } from './import-photograph.ts';
import { renderEntriesCsv, renderTrendsCsv } from '../report/render-csv.ts';

export interface LogbookFilesOptions {
  readonly logbook: LogbookService;
  readonly jobs: LogbookJobs;
  readonly photographs: PhotographStore;
  readonly engine: Engine;
  readonly printPdf: PrintPdf;
  readonly softwareVersion: string;
  readonly now: () => Date;
}

const HTML = 'text/html; charset=utf-8';
const CSV = 'text/csv; charset=utf-8';
const HORIZON_DAYS = 90;

export class LogbookFiles implements LogbookPort {
  readonly #options: LogbookFilesOptions;

  constructor(options: LogbookFilesOptions) {
    this.#options = options;
  }

  async addPhotograph(given: string, bytes: Uint8Array): Promise<Outcome<WaitingPhotograph>> {
    const name = cleanName(given);
    try {
      const added = await this.#options.photographs.add(bytes);
      if (added.outcome === 'added') return { ok: true, value: { sha256: added.sha256, name } };
      const facts = { file: name, reason: 'format', format: added.format };
      return {
        ok: false,
        failure: { code: 'unsupported-format', ...translateRefusal('unsupported-format', facts, null) },
      };
    } catch (error) {
      return { ok: false, failure: translateNotKept(error) };
    }
  }

  /** Only what is what its name says. */
  viewPhotograph(sha256: string, width?: number): Promise<Outcome<ShownPhotograph>> {
    const gone: Outcome<never> = { ok: false, failure: translateFailure('no-such-photograph') };
    return this.#options.logbook.ask(async (logbook): Promise<Outcome<ShownPhotograph>> => {
      if (!SHA256_PATTERN.test(sha256) || (await logbook.findPhotograph(sha256)) === undefined) return gone;
      const sound = await findSoundPhotograph(logbook, { sha256, name: '' });
      if (sound.outcome === 'refused') return refuseInWords(sound);
      const { path } = sound;
      const view = await this.#options.engine.run('view', { path, ...(width === undefined ? {} : { width }) });
      if (view.outcome === 'viewed') return { ok: true, value: view };
      return { ok: false, failure: { code: view.code, ...translateRefusal(view.code, view.facts, null) } };
    });
  }

  importBundle(name: string, bytes: Uint8Array): Promise<Outcome<{ job: number }>> {
    return this.#options.jobs.import(name, bytes);
  }

  async bundle(job: number): Promise<Outcome<ExportedFile>> {
    const made = await this.#options.jobs.bundle(job);
    if (!made) return { ok: false, failure: translateFailure('no-such-job') };
    return fileOf(made.name, 'application/zip', made.bytes);
  }

  entryFile(id: string, file: EntryFile, paper: Paper): Promise<Outcome<ExportedFile>> {
    return this.#options.logbook.withEntry(id, async (found, logbook): Promise<Outcome<ExportedFile>> => {
      const name = nameEntryFile(found);
      if (file === 'entry.json') return fileOf(`${name}.json`, 'application/json', found.text);
      const { html } = await composeEntryReport(logbook, found, { makePictures: this.#makePictures, paper });
      return this.#onScreenOrPaper(html, file, name);
    });
  }

  pairFile(before: string, after: string, file: PairFile, paper: Paper): Promise<Outcome<ExportedFile>> {
    return this.#options.logbook.withPair(before, after, async (pair, logbook): Promise<Outcome<ExportedFile>> => {
      const name = nameEntryFile(pair.after, 'before-after-');
      if (file === 'comparison.json')
        return fileOf(`${name}.json`, 'application/json', `${JSON.stringify(pair.comparison)}\n`);
      const { html } = await composePairReport(logbook, pair, { makePictures: this.#makePictures, paper });
      return this.#onScreenOrPaper(html, file, name);
    });
  }

  async listFile(query: LogbookQuery): Promise<Outcome<ExportedFile>> {
    const found = await this.#options.logbook.listAll(query);
    return found.ok ? fileOf('twinplumb-entries.csv', CSV, renderEntriesCsv(found.value)) : found;
  }

  async trendsFile(query: LogbookQuery, file: TrendsFile, paper: Paper): Promise<Outcome<ExportedFile>> {
    const { logbook, now, softwareVersion } = this.#options;
    const found = await logbook.trends(query, HORIZON_DAYS);
    if (!found.ok) return found;
    if (file === 'trends.csv') return fileOf('twinplumb-trends.csv', CSV, renderTrendsCsv(found.value.trends));
    const html = composeTrendsReport(found.value, { at: now(), softwareVersion, paper });
    return this.#onScreenOrPaper(html, file, 'twinplumb-trends');
  }

  readonly #makePictures: MakePictures = (request) => this.#options.engine.run('draw-pictures', request);

  async #onScreenOrPaper(
    html: string,
    file: 'report.html' | 'report.pdf',
    name: string,
  ): Promise<Outcome<ExportedFile>> {
    if (file === 'report.html') return fileOf(`${name}.html`, HTML, html);
    const printed = await this.#options.printPdf(html);
    return printed.ok ? fileOf(`${name}.pdf`, 'application/pdf', printed.value) : printed;
  }
}

function fileOf(name: string, type: string, body: string | Uint8Array): Outcome<ExportedFile> {
  return { ok: true, value: { name, type, body } };
}
