/** What is wrong with a light chain. */
import type { Facts, RefusalWords } from './facts.ts';
import { listFileProblems, type NamedFile, problemsOfFile, translateInvalidFile } from './invalid-file.ts';

const LIGHT_CHAIN: NamedFile = {
  name: 'light chain',
  schema: 'twinplumb.light-chain/1',
  problems: {
    'one-start-needed': () => 'needs exactly one reading: luminance_cd_m2, luminance_fL or illuminance_lx',
    'label-needed': () => 'is missing: a step of your own needs a name',
  },
};

export const LIGHT_CHAIN_PROBLEMS: readonly string[] = problemsOfFile(LIGHT_CHAIN);

export function translateInvalidLightChain(facts: Facts): RefusalWords {
  return translateInvalidFile(facts, LIGHT_CHAIN);
}

export function listLightChainProblems(facts: Facts): string[] {
  return listFileProblems(facts, LIGHT_CHAIN);
}
