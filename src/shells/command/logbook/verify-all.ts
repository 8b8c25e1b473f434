/** `logbook verify`: every hash, every link, and every reading measured again. */
import { measurePair } from '../../../application/measure-pair.ts';
import { requestRemeasurement } from '../../../logbook/request-remeasurement.ts';
import { type Problem, type Remeasurement, verifyLogbook } from '../../../logbook/verify-logbook.ts';
import type { Reading } from '../../../record/reading.ts';
import { translateLogbook } from '../../../wording/logbook.ts';
import { translateReading } from '../../../wording/word-reading.ts';
import { EXIT, type ExitStatus } from '../exit-status.ts';
import { type CommandWorld, openForCommand } from './open-for-command.ts';

export interface VerifyOrder {
  readonly folder?: string;
  readonly quick?: boolean;
  readonly json?: boolean;
}

export async function verifyAll(order: VerifyOrder, world: CommandWorld): Promise<ExitStatus> {
  const { terminal, software } = world;
  const { folder } = await openForCommand(order.folder, world);
  const report = await verifyLogbook({
    folder,
    softwareVersion: software.version,
    ...(!order.quick && { measure: (again: Remeasurement) => measureAgain(again, software.version) }),
    ...(terminal.isWatched && {
      onProgress: (done: number, of: number) => terminal.remark(`\r${done} of ${of} entries`),
    }),
  });
  if (terminal.isWatched) terminal.remark('\n');
  const { entries, additions, photographs, remeasured, unclaimed, problems } = report;
  if (order.json) terminal.print(`${JSON.stringify(report)}\n`);
  else {
    const counts = `${entries} entries, ${additions} additions, ${photographs} photographs; ${remeasured} readings measured again.`;
    const loose = unclaimed === 0 ? '' : ` ${unclaimed} photographs belong to no entry; that is no fault.`;
    const end = problems.length === 0 ? 'Everything is as it was kept.' : `${problems.length} faults.`;
    terminal.print([`${counts}${loose}`, ...problems.map(renderProblem), end, ''].join('\n'));
  }
  return problems.length === 0 ? EXIT.measured : EXIT.unsound;
}

function renderProblem({ code, id, file, facts }: Problem): string {
  const { message, remedy } = translateLogbook(code, facts);
  const where = [id?.slice(0, 12), file].filter(Boolean).join(', ');
  return `${code} (${where}): ${message} ${remedy}`;
}

async function measureAgain(again: Remeasurement, version: string): Promise<Reading> {
  return translateReading(await measurePair(requestRemeasurement(again, version)));
}
