/** `logbook export`: an entry as one ZIP for somebody else. */
import { stat } from 'node:fs/promises';
import { writeAtomically } from '../../../storage/write-atomically.ts';
import { packBundle } from '../../../logbook/bundle/pack-bundle.ts';
import { blameNamedPlace, EXIT, type ExitStatus, UsageError } from '../exit-status.ts';
import { composeEntryReport } from './entry-report.ts';
import { type CommandWorld, openForCommand, requireDone } from './open-for-command.ts';

export async function exportEntry(
  id: string,
  { folder, out }: { readonly folder?: string; readonly out: string },
  world: CommandWorld,
): Promise<ExitStatus> {
  if (await isThere(out)) throw new UsageError(`${out} exists already; nothing is overwritten`);
  const logbook = await openForCommand(folder, world);
  const found = requireDone(await logbook.find(id));
  const { version } = world.software;
  // Photographs are checked by packing; a report is only drawn from sound ones.
  requireDone(await packBundle(logbook, { id: found.id, report: '', softwareVersion: version, now: new Date() }));
  const report = await composeEntryReport(logbook, found);
  const packed = requireDone(
    await packBundle(logbook, { id: found.id, report, softwareVersion: version, now: new Date() }),
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
