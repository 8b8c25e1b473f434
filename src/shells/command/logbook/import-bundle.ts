/** `logbook import`: a ZIP from somebody else, verified as a whole before anything of it is kept. */
import { unpackBundle } from '../../../logbook/bundle/unpack-bundle.ts';
import { translateLogbook } from '../../../wording/logbook.ts';
import { EXIT, type ExitStatus, UnsoundError } from '../exit-status.ts';
import { type CommandWorld, openForCommand, requireDone } from './open-for-command.ts';

/** Faults that are told one by one; a bundle that was tampered with may have thousands. */
const TOLD = 20;

export async function importBundle(
  file: string,
  { folder }: { readonly folder?: string },
  world: CommandWorld,
): Promise<ExitStatus> {
  const logbook = await openForCommand(folder, world, true);
  const unpacked = requireDone(await unpackBundle(logbook, file));
  if (unpacked.outcome === 'unsound') {
    const { problems } = unpacked;
    const lines = problems.slice(0, TOLD).map(({ code, file: member }) => {
      const { message, remedy } = translateLogbook(code);
      return `${code}${member && ` ${member}`}: ${message} ${remedy}`;
    });
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
