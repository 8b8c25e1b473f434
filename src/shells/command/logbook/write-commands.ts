/** `logbook add`, `note`, `export` and `import`: what is kept, and what is handed over. */
import { stat } from 'node:fs/promises';
import type { NewEntry } from '../../../logbook/logbook.ts';
import type { EntryTurn } from '../../../record/entry.ts';
import { renderTextReport } from '../../../report/text/render-text.ts';
import { exportEntry, importBundle } from '../../../services/exchange.ts';
import { addNote, keepEntry } from '../../../services/keep-entry.ts';
import { writeAtomically } from '../../../storage/write-atomically.ts';
import { translateReading } from '../../../wording/reading.ts';
import { blameNamedPlace, EXIT, type ExitStatus, UnsoundError, UsageError } from '../exit-status.ts';
import { readHouseFile } from '../read-house-file.ts';
import { makePictures } from '../write-report.ts';
import { type CommandWorld, openForCommand, requireDone, reportNotices } from './open-for-command.ts';

export interface AddOptions {
  readonly folder?: string;
  readonly left: string;
  readonly right: string;
  readonly closing?: string;
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

export async function addEntry(order: AddOptions, world: CommandWorld): Promise<ExitStatus> {
  const { terminal, software } = world;
  if ((order.replaces === undefined) !== (order.reason === undefined)) {
    throw new UsageError('--replaces and --reason belong together: which entry is corrected, and why');
  }
  const turns_made = (order.turned ?? []).map(readTurn);
  if (turns_made.length > 0 && order.follows === undefined) {
    throw new UsageError('--turned needs --follows: the entry after which the turns were made');
  }
  const house = order.house === undefined ? null : await readHouseFile(order.house);
  const logbook = await openForCommand(order.folder, world, true);
  const [follows, replaces] = [order.follows, order.replaces];
  const before = follows === undefined ? null : requireDone(await logbook.find(follows)).id;
  const replaced = replaces === undefined ? null : requireDone(await logbook.find(replaces)).id;

  const { measurePair } = await import('../../../application/measure-pair.ts');
  const reading = translateReading(
    await measurePair({
      leftPath: order.left,
      rightPath: order.right,
      ...(order.closing !== undefined && { closingPath: order.closing }),
      ...(house && { house }),
      ...(order.aspect !== undefined && { aspect: order.aspect }),
      softwareVersion: software.version,
    }),
  );
  if (reading.outcome === 'refused') {
    terminal.print(order.json ? `${JSON.stringify(reading)}\n` : renderTextReport(reading));
    terminal.remark('Nothing was kept.\n');
    return EXIT.refused;
  }
  const shots: NewEntry['shots'] = [
    { role: 'left-lens', path: order.left, name: order.left },
    { role: 'right-lens', path: order.right, name: order.right },
    ...(order.closing === undefined ? [] : [{ role: 'closing' as const, path: order.closing, name: order.closing }]),
  ];
  const kept = requireDone(
    await keepEntry(logbook, {
      operator: order.operator ?? null,
      print: order.print ?? null,
      reel: order.reel ?? null,
      note: order.note ?? null,
      house,
      shots,
      reading,
      turns_made,
      parameters: { aspect: order.aspect ?? null, wander_px: null },
      follows: before,
      replaces: replaced === null ? null : { entry: replaced, reason: order.reason! },
    }),
  );
  reportNotices(kept.notices, terminal);
  const found = requireDone(await logbook.find(kept.id));
  terminal.print(
    order.json
      ? `${JSON.stringify({ id: kept.id, ...found.entry })}\n`
      : `${renderTextReport(reading)}\nKept as ${kept.id}\n`,
  );
  return EXIT.measured;
}

function readTurn(text: string): EntryTurn {
  const [, adjustment, direction, amount] = /^([^:]+):(clockwise|counter-clockwise):(\d+(?:\.\d+)?)$/.exec(text) ?? [];
  if (adjustment === undefined || !(Number(amount) > 0)) {
    throw new UsageError(
      `--turned is written adjustment:clockwise:turns, such as upper-mirror:clockwise:0.125, not ${text}`,
    );
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
  order: NoteOptions,
  world: CommandWorld,
): Promise<ExitStatus> {
  const logbook = await openForCommand(order.folder, world);
  const photographs = (order.photo ?? []).map((path) => ({ path, name: path }));
  const kept = requireDone(
    await addNote(logbook, { entry: id, by: order.by ?? null, note: text ?? null, photographs }),
  );
  reportNotices(kept.notices, world.terminal);
  world.terminal.print(`Added as ${kept.id}\n`);
  return EXIT.measured;
}

export async function exportToFile(
  id: string,
  { folder, out }: { readonly folder?: string; readonly out: string },
  world: CommandWorld,
): Promise<ExitStatus> {
  if (await isThere(out)) throw new UsageError(`${out} exists already; nothing is overwritten`);
  const logbook = await openForCommand(folder, world);
  const found = requireDone(await logbook.find(id));
  const packed = requireDone(
    await exportEntry(logbook, found, { softwareVersion: world.software.version, now: new Date(), makePictures }),
  );
  try {
    await writeAtomically(out, packed.bytes);
  } catch (error) {
    throw blameNamedPlace(error, `the bundle cannot be written to ${out}`);
  }
  world.terminal.print(`${out}: ${packed.manifest.files.length} files of the entry ${found.id}\n`);
  return EXIT.measured;
}

async function isThere(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
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
    const lines = problems
      .slice(0, MAX_LISTED)
      .map(({ code, file: member, message, remedy }) => `${code}${member && ` ${member}`}: ${message} ${remedy}`);
    throw new UnsoundError([`${file} was not imported (${problems.length} faults)`, ...lines].join('\n  '));
  }
  const { entry, kept, known, photographs } = unpacked;
  const told =
    kept.length === 0
      ? `The entry ${entry} is in the logbook already; nothing was changed.\n`
      : `Imported ${entry}: ${kept.length} new records, ${known.length} known ones, ${photographs} new photographs.\n`;
  world.terminal.print(told);
  return EXIT.measured;
}
