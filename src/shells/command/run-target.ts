/** `target`: the alignment target's files; their paths go to stdout. */
import { blameNamedPlace, EXIT, type ExitStatus, UsageError } from './exit-status.ts';
import { type TargetOrder, writeTarget } from './write-target.ts';

export async function runTarget(order: TargetOrder, print: (text: string) => void): Promise<ExitStatus> {
  try {
    const { files } = await writeTarget(order);
    print(files.map((file) => `${file}\n`).join(''));
    return EXIT.measured;
  } catch (error) {
    // The order is checked before anything is drawn, so a RangeError speaks of what the user asked for.
    if (error instanceof RangeError) throw new UsageError(error.message);
    throw blameNamedPlace(error, `the target cannot be written to ${order.out}`);
  }
}
