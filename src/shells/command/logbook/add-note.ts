/** `logbook note`: a note, or photographs, for an entry that was kept before. */
import { EXIT, type ExitStatus } from '../exit-status.ts';
import { type CommandWorld, openForCommand, requireDone, reportNotices } from './open-for-command.ts';

export interface NoteOrder {
  readonly folder?: string;
  readonly by?: string;
  readonly photo?: readonly string[];
}

export async function addNote(
  id: string,
  text: string | undefined,
  order: NoteOrder,
  world: CommandWorld,
): Promise<ExitStatus> {
  const logbook = await openForCommand(order.folder, world);
  const photographs = (order.photo ?? []).map((path) => ({ path, name: path }));
  const kept = requireDone(await logbook.append({ entry: id, by: order.by ?? null, note: text ?? null, photographs }));
  reportNotices(kept.notices, world.terminal);
  world.terminal.print(`Added as ${kept.id}\n`);
  return EXIT.measured;
}
