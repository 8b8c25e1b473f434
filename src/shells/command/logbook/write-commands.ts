/** `logbook add`, `note`, `export` and `import`: what is kept, and what is handed over. */
import type { NewEntry } from '../../../logbook/logbook.ts';
import type { EntryTurn } from '../../../record/entry.ts';
import { renderTextReport } from '../../../report/text/render-text.ts';
import { exportEntry, importBundle } from '../../../services/exchange.ts';
import { addNote, keepEntry } from '../../../services/keep-entry.ts';
import { writeAtomically } from '../../../storage/write-atomically.ts';
import { translateCommand } from '../../../wording/command.ts';
import { formatJsonLine } from '../../../wording/make-safe.ts';
import { translateReading } from '../../../wording/reading.ts';
import { claimPlace, OWN } from '../claim-place.ts';
import type { CommandWorld } from '../command-world.ts';
import { blameNamedPlace, EXIT, type ExitStatus, UnsoundError, wrongUsage } from '../exit-status.ts';
import { listPhotographs, type PhotographOptions } from '../photographs.ts';
import { readHouseFile } from '../read-house-file.ts';
import { makePictures } from '../write-report.ts';
import { openForCommand, reportNotices, requireDone } from './open-for-command.ts';

export interface AddOptions extends PhotographOptions {
  readonly folder?: string;
  readonly house?: string;
  readonly aspect?: number;
  readonly operator?: string;
  readonly print?: string;
  readonly reel?: string;
  readonly note?: string;
  readonly follows?: string;
  readonly turned?: readonly string[];
  readonly replaces?: string;
  readonly reason?: string;
  readonly json?: boolean;
}

export async function addEntry(options: AddOptions, world: CommandWorld): Promise<ExitStatus> {
  const { terminal, software } = world;
  if ((options.replaces === undefined) !== (options.reason === undefined)) {
    throw wrongUsage('replaces-and-reason');
  }
  const turns_made = (options.turned ?? []).map(readTurn);
  if (turns_made.length > 0 && options.follows === undefined) {
    throw wrongUsage('turned-without-follows');
  }
  const house = options.house === undefined ? null : await readHouseFile(options.house);
  const logbook = await openForCommand(options.folder, world, true);
  const [follows, replaces] = [options.follows, options.replaces];
  const before = follows === undefined ? null : requireDone(await logbook.find(follows)).id;
  const replaced = replaces === undefined ? null : requireDone(await logbook.find(replaces)).id;

  const photographs = listPhotographs(options);
  const { measurePhotographs } = await import('../../../application/measure-photographs.ts');
  const reading = translateReading(
    await measurePhotographs({
      photographs,
      ...(house && { house }),
      ...(options.aspect !== undefined && { aspect: options.aspect }),
      softwareVersion: software.version,
    }),
  );
  if (reading.outcome === 'refused') {
    terminal.print(options.json ? formatJsonLine(reading) : renderTextReport(reading, undefined, terminal.style));
    terminal.remark(`${translateCommand('nothing-kept')}\n`);
    return EXIT.refused;
  }
  const shots: NewEntry['shots'] = photographs;
  const kept = requireDone(
    await keepEntry(logbook, {
      operator: options.operator ?? null,
      print: options.print ?? null,
      reel: options.reel ?? null,
      note: options.note ?? null,
      house,
      shots,
      reading,
      turns_made,
      parameters: { aspect: options.aspect ?? null, wander_px: null },
      follows: before,
      replaces: replaced === null ? null : { entry: replaced, reason: options.reason! },
    }),
  );
  reportNotices(kept.notices, terminal);
  const found = requireDone(await logbook.find(kept.id));
  terminal.print(
    options.json
      ? formatJsonLine({ id: kept.id, ...found.entry })
      : `${renderTextReport(reading, undefined, terminal.style)}\n${translateCommand('kept-as', { id: kept.id })}\n`,
  );
  return EXIT.measured;
}

function readTurn(text: string): EntryTurn {
  const [, adjustment, direction, amount] = /^([^:]+):(clockwise|counter-clockwise):(\d+(?:\.\d+)?)$/.exec(text) ?? [];
  if (adjustment === undefined || !(Number(amount) > 0)) {
    throw wrongUsage('turned-form', { value: text });
  }
  return { adjustment, direction: direction as EntryTurn['direction'], turns: Number(amount) };
}

export interface NoteOptions {
  readonly folder?: string;
  readonly by?: string;
  readonly photo?: readonly string[];
}

export async function noteEntry(
  id: string,
  text: string | undefined,
  options: NoteOptions,
  world: CommandWorld,
): Promise<ExitStatus> {
  const logbook = await openForCommand(options.folder, world);
  const photographs = (options.photo ?? []).map((path) => ({ path, name: path }));
  const kept = requireDone(
    await addNote(logbook, { entry: id, by: options.by ?? null, note: text ?? null, photographs }),
  );
  reportNotices(kept.notices, world.terminal);
  world.terminal.print(`${translateCommand('added-as', { id: kept.id })}\n`);
  return EXIT.measured;
}

export async function exportToFile(
  id: string,
  { folder, out, force }: { readonly folder?: string; readonly out: string; readonly force?: boolean },
  world: CommandWorld,
): Promise<ExitStatus> {
  const place = await claimPlace(out, { own: OWN.bundle, ...(force && { force }) });
  const logbook = await openForCommand(folder, world);
  const found = requireDone(await logbook.find(id));
  const packed = requireDone(
    await exportEntry(logbook, found, { softwareVersion: world.software.version, now: new Date(), makePictures }),
  );
  try {
    await writeAtomically(place, packed.bytes);
  } catch (error) {
    throw blameNamedPlace(error, 'bundle-unwritten', out);
  }
  world.terminal.print(
    `${translateCommand('exported', { place: out, files: packed.manifest.files.length, id: found.id })}\n`,
  );
  return EXIT.measured;
}

/** Faults that are told one by one; a bundle that was tampered with may have thousands. */
const MAX_LISTED = 20;

export async function importFile(
  file: string,
  { folder }: { readonly folder?: string },
  world: CommandWorld,
): Promise<ExitStatus> {
  const logbook = await openForCommand(folder, world, true);
  const unpacked = requireDone(await importBundle(logbook, file));
  if (unpacked.outcome === 'unsound') {
    const { problems } = unpacked;
    const lines = problems.slice(0, MAX_LISTED).map((problem) => translateCommand('import-problem', { ...problem }));
    throw new UnsoundError(
      [translateCommand('not-imported', { place: file, problems: problems.length }), ...lines].join('\n  '),
    );
  }
  const { entry, kept, known, photographs } = unpacked;
  const counts = { id: entry, kept: kept.length, known: known.length, photographs };
  world.terminal.print(`${translateCommand(kept.length === 0 ? 'imported-known' : 'imported', counts)}\n`);
  return EXIT.measured;
}
