/** A house file -> the House, or what is wrong with it as a usage error: no photograph is to blame. */
import { readFile } from 'node:fs/promises';
import type { House } from '../../record/house.ts';
import { listHouseProblems, translateInvalidHouse } from '../../wording/refusals.ts';
import { UsageError } from './exit-status.ts';

export async function readHouseFile(path: string): Promise<House> {
  const { readHouse } = await import('../../record/house.ts');
  const result = readHouse(await readJsonFile(path, refuseHouse));
  if (result.outcome === 'read') return result.house;
  const problems = listHouseProblems(result.facts);
  throw refuseHouse({ ...result.facts, file: path }, problems.length > 1 ? problems : []);
}

type Facts = Readonly<Record<string, number | string>>;

/** `refuse`: the error in the words of what the file should have been. */
export async function readJsonFile(path: string, refuse: (facts: Facts) => UsageError): Promise<unknown> {
  const text = await readFile(path, 'utf8').catch(() => {
    throw refuse({ reason: 'unreadable', file: path });
  });
  try {
    // Editors of some systems begin the file with a byte order mark.
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    throw refuse({ reason: 'not-json', detail: (error as Error).message });
  }
}

function refuseHouse(facts: Facts, problems: readonly string[] = []): UsageError {
  const { message, remedy } = translateInvalidHouse(facts);
  return new UsageError([message, ...problems.map((problem) => `  - ${problem}`), remedy].join('\n'));
}
