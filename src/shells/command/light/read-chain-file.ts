/** A light chain's file -> the chain, or what is wrong with it as a usage error. */
import { readFile } from 'node:fs/promises';
import { type LightChain, readLightChain } from '../../../record/light-chain.ts';
import { listLightChainProblems, translateInvalidLightChain } from '../../../wording/refusals.ts';
import { UsageError } from '../exit-status.ts';

export async function readChainFile(path: string): Promise<LightChain> {
  const read = readLightChain(parseJson(await readText(path)));
  if (read.outcome === 'read') return read.chain;
  throw refuseChain(read.facts);
}

async function readText(path: string): Promise<string> {
  try {
    return await readFile(path, 'utf8');
  } catch {
    throw refuseChain({ reason: 'unreadable', file: path });
  }
}

function parseJson(text: string): unknown {
  try {
    // Editors of some systems begin the file with a byte order mark.
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    throw refuseChain({ reason: 'not-json', detail: (error as Error).message });
  }
}

export function refuseChain(facts: Readonly<Record<string, number | string>>): UsageError {
  const { message, remedy } = translateInvalidLightChain(facts);
  const problems = listLightChainProblems(facts);
  return new UsageError(
    [message, ...(problems.length > 1 ? problems.map((problem) => `  - ${problem}`) : []), remedy].join('\n'),
  );
}
