/** `logbook add`: measures two photographs and keeps the reading with them. A refusal is told and not kept. */
import { measurePair } from '../../../application/measure-pair.ts';
import type { NewEntry } from '../../../logbook/logbook.ts';
import type { EntryTurn } from '../../../record/entry.ts';
import { renderTextReport } from '../../../report/text/render-text.ts';
import { translateReading } from '../../../wording/word-reading.ts';
import { EXIT, type ExitStatus, UsageError } from '../exit-status.ts';
import { readHouseFile } from '../read-house-file.ts';
import { type CommandWorld, openForCommand, requireDone, reportNotices } from './open-for-command.ts';

export interface AddOrder {
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

export async function addEntry(order: AddOrder, world: CommandWorld): Promise<ExitStatus> {
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
    await logbook.add({
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
