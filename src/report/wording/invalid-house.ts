/** What is wrong with a house file: the first problem in the sentence, the rest counted. */
import { type Facts, type RefusalWords, withText } from './facts.ts';

const PROBLEMS: Readonly<Record<string, (expected: string) => string>> = {
  missing: (expected) => `is missing${expected && ` (${expected})`}`,
  'unknown-field': () => 'is no field of a house file',
  'wrong-type': (expected) => `has the wrong type${expected && `, a ${expected} is needed`}`,
  'too-small': (expected) => `is too small${expected && `, at least ${expected} is needed`}`,
  'too-large': (expected) => `is too large${expected && `, at most ${expected} is allowed`}`,
  'not-allowed': (expected) => `holds a value that is not allowed${expected && ` (allowed: ${expected})`}`,
  'zero-effect': () => 'moves nothing: an adjustment needs an effect',
  'position-outside-range': () => 'lies outside the travel of its screw',
  'smallest-turn-exceeds-range': () => 'is larger than the travel of its screw',
  'id-used-twice': () => 'names two adjustments alike',
  'reference-seat-before-nearest-row': () => 'lies nearer to the screen than the nearest row',
};

export const HOUSE_PROBLEMS: readonly string[] = Object.keys(PROBLEMS);

const MANUAL = 'the manual lists every field with its unit and range';

export function wordInvalidHouse(facts: Facts): RefusalWords {
  switch (facts.reason) {
    case 'unreadable':
      return {
        message: `The house file${withText(facts, 'file', ' ')} cannot be read.`,
        remedy: 'Check the path of the file and the right to read it.',
      };
    case 'not-json':
      return {
        message: `The house file is not valid JSON${withText(facts, 'detail', ' (', ')')}.`,
        remedy: 'Correct the line, or start again from the example in the manual.',
      };
    case 'not-a-house':
      return {
        message: 'The file given as house file is none.',
        remedy: `Begin it with "schema": "${facts.supported ?? 'twinplumb.house/1'}"; ${MANUAL}.`,
      };
    case 'newer-version':
      return {
        message: `The house file${withText(facts, 'schema', ' (', ')')} was written for a newer Twinplumb than this one.`,
        remedy: `Install the newer version, or write the file as "${facts.supported ?? 'twinplumb.house/1'}".`,
      };
    default: {
      const problem = PROBLEMS[String(facts.problem_1)];
      const expected = facts.expected_1 === undefined ? '' : String(facts.expected_1);
      const more = typeof facts.count === 'number' && facts.count > 1 ? ` (and ${facts.count - 1} more)` : '';
      return {
        message:
          problem === undefined
            ? 'The house file cannot be used.'
            : `In the house file, ${facts.path_1 || 'the whole file'} ${problem(expected)}${more}.`,
        remedy: `Correct the house file; ${MANUAL}.`,
      };
    }
  }
}

/** Every listed problem, one line each, for the diagnostics of the command line. */
export function listHouseProblems(facts: Facts): string[] {
  const lines: string[] = [];
  for (let i = 1; facts[`path_${i}`] !== undefined; i++) {
    const problem = PROBLEMS[String(facts[`problem_${i}`])];
    const expected = facts[`expected_${i}`];
    if (problem)
      lines.push(
        `${facts[`path_${i}`] || 'the whole file'} ${problem(expected === undefined ? '' : String(expected))}`,
      );
  }
  return lines;
}
