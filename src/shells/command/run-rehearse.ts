/** `rehearse`: photographs of a simulated projector with their exact truth; their paths go to stdout. */
import { blameNamedPlace, EXIT, type ExitStatus, UsageError } from './exit-status.ts';
import { type GivenRehearsalOptions, wishOf } from './rehearsal-options.ts';
import { rehearse } from './rehearse.ts';

export interface GivenRehearsal extends GivenRehearsalOptions {
  readonly seed: number;
  readonly out: string;
  readonly house?: string;
  readonly png?: boolean;
}

export async function runRehearse(given: GivenRehearsal, print: (text: string) => void): Promise<ExitStatus> {
  const { seed, out, house, png = false } = given;
  const facts = house === undefined ? undefined : await (await import('./read-house-file.ts')).readHouseFile(house);
  try {
    const order = { seed, out, png, wish: wishOf(given) };
    const { files } = await rehearse(facts === undefined ? order : { ...order, house: facts });
    print(files.map((file) => `${file}\n`).join(''));
    return EXIT.measured;
  } catch (error) {
    // Wishes are checked before anything is rendered, so a RangeError speaks of what the user asked for.
    if (error instanceof RangeError) throw new UsageError(error.message);
    throw blameNamedPlace(error, `the rehearsal cannot be written to ${out}`);
  }
}
