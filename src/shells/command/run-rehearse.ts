/** `rehearse`: photographs of a simulated projector with their exact truth; paths, and what to run on them, go to stdout. */
import { blameNamedPlace, EXIT, type ExitStatus, UsageError } from './exit-status.ts';
import { namePracticeCommands } from './practice-commands.ts';
import { type FurtherWord, type GivenRehearsalOptions, wishOf } from './rehearsal-options.ts';
import { rehearse } from './rehearse.ts';

export interface GivenRehearsal extends GivenRehearsalOptions {
  readonly seed: number;
  readonly out: string;
  readonly house?: string;
  readonly png?: boolean;
  readonly also?: readonly FurtherWord[];
}

export async function runRehearse(given: GivenRehearsal, print: (text: string) => void): Promise<ExitStatus> {
  const { seed, out, house, png = false, also = [] } = given;
  const facts = house === undefined ? undefined : await (await import('./read-house-file.ts')).readHouseFile(house);
  try {
    const order = { seed, out, png, also, wish: wishOf(given) };
    const { files, truth } = await rehearse(facts === undefined ? order : { ...order, house: facts });
    const commands = namePracticeCommands(truth, { out, ...(house !== undefined && { house }) });
    print([...files, ...commands].map((line) => `${line}\n`).join(''));
    return EXIT.measured;
  } catch (error) {
    // Wishes are checked before anything is rendered, so a RangeError speaks of what the user asked for.
    if (error instanceof RangeError) throw new UsageError(error.message);
    throw blameNamedPlace(error, `the rehearsal cannot be written to ${out}`);
  }
}
