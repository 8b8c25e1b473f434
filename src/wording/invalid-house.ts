/** What is wrong with a house file. */
import type { Facts, RefusalWords } from './facts.ts';
import { listFileProblems, type NamedFile, problemsOfFile, translateInvalidFile } from './invalid-file.ts';

const HOUSE_FILE: NamedFile = {
  name: 'house file',
  schema: 'twinplumb.house/1',
  problems: {
    'zero-effect': () => 'moves nothing: an adjustment needs an effect',
    'position-outside-range': () => 'lies outside the travel of its screw',
    'smallest-turn-exceeds-range': () => 'is larger than the travel of its screw',
    'id-used-twice': () => 'names two adjustments alike',
    'reference-seat-before-nearest-row': () => 'lies nearer to the screen than the nearest row',
  },
};

export const HOUSE_PROBLEMS: readonly string[] = problemsOfFile(HOUSE_FILE);

export function translateInvalidHouse(facts: Facts): RefusalWords {
  return translateInvalidFile(facts, HOUSE_FILE);
}

export function listHouseProblems(facts: Facts): string[] {
  return listFileProblems(facts, HOUSE_FILE);
}
