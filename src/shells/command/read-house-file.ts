/** A house file -> the House, or what is wrong with it as a usage error: no photograph is to blame. */
import { readFile } from 'node:fs/promises';
import type { House } from '../../record/house.ts';
import { listHouseProblems, translateInvalidHouse } from '../../wording/refusals.ts';
import { UsageError } from './exit-status.ts';

export async function readHouseFile(path: string): Promise<House> {
  const { readHouse } = await import('../../record/house.ts');
  const result = readHouse(parseJson(await readText(path)));
  if (result.outcome === 'read') return result.house;
  const problems = listHouseProblems(result.facts);
  throw refuseHouse({ ...result.facts, file: path }, problems.length > 1 ? problems : []);
}

async function readText(path: string): Promise<string> {
  try {
    return await readFile(path, 'utf8');
  } catch {
    throw refuseHouse({ reason: 'unreadable', file: path });
  }
}

function parseJson(text: string): unknown {
  try {
    // Editors of some systems begin the file with a byte order mark.
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    throw refuseHouse({ reason: 'not-json', detail: (error as Error).message });
  }
}

function refuseHouse(facts: Readonly<Record<string, number | string>>, problems: readonly string[] = []): UsageError {
  const { message, remedy } = translateInvalidHouse(facts);
  return new UsageError([message, ...problems.map((problem) => `  - ${problem}`), remedy].join('\n'));
}
