/** What is wrong with a file that somebody wrote: the first problem in the sentence, the rest counted. */
import { type Facts, type RefusalWords, withText } from './facts.ts';

/** What the file is called, and the schema name that it begins with. */
export interface NamedFile {
  /** `house file` */
  readonly name: string;
  readonly schema: string;
  /** Kinds of problems that only this file has. */
  readonly problems: Readonly<Record<string, (expected: string, file: string) => string>>;
}

const PROBLEMS: NamedFile['problems'] = {
  missing: (expected) => `is missing${expected && ` (${expected})`}`,
  'unknown-field': (_, file) => `is no field of a ${file}`,
  'wrong-type': (expected) => `has the wrong type${expected && `, a ${expected} is needed`}`,
  'too-small': (expected) => `is too small${expected && `, at least ${expected} is needed`}`,
  'too-large': (expected) => `is too large${expected && `, at most ${expected} is allowed`}`,
  'not-allowed': (expected) => `holds a value that is not allowed${expected && ` (allowed: ${expected})`}`,
};

const MANUAL = 'the manual lists every field with its unit and range';

export function problemsOfFile({ problems }: NamedFile): string[] {
  return [...Object.keys(PROBLEMS), ...Object.keys(problems)];
}

export function translateInvalidFile(facts: Facts, file: NamedFile): RefusalWords {
  const { name, schema } = file;
  switch (facts.reason) {
    case 'unreadable':
      return {
        message: `The ${name}${withText(facts, 'file', ' ')} cannot be read.`,
        remedy: 'Check the path of the file and the right to read it.',
      };
    case 'not-json':
      return {
        message: `The ${name} is not valid JSON${withText(facts, 'detail', ' (', ')')}.`,
        remedy: 'Correct the line, or start again from the example in the manual.',
      };
    case 'not-a-house':
    case 'not-a-light-chain':
      return {
        message: `The file given as ${name} is none.`,
        remedy: `Begin it with "schema": "${facts.supported ?? schema}"; ${MANUAL}.`,
      };
    case 'newer-version':
      return {
        message: `The ${name}${withText(facts, 'schema', ' (', ')')} was written for a newer Twinplumb than this one.`,
        remedy: `Install the newer version, or write the file as "${facts.supported ?? schema}".`,
      };
    default: {
      const problem = formatProblem(facts, 1, file);
      const more = typeof facts.count === 'number' && facts.count > 1 ? ` (and ${facts.count - 1} more)` : '';
      return {
        message: problem === undefined ? `The ${name} cannot be used.` : `In the ${name}, ${problem}${more}.`,
        remedy: `Correct the ${name}; ${MANUAL}.`,
      };
    }
  }
}

/** Every listed problem, one line each, for the diagnostics of the command line. */
export function listFileProblems(facts: Facts, file: NamedFile): string[] {
  const lines: string[] = [];
  for (let i = 1; facts[`path_${i}`] !== undefined; i++) {
    const problem = formatProblem(facts, i, file);
    if (problem !== undefined) lines.push(problem);
  }
  return lines;
}

/** "throw_m is too small, at least 1 is needed" */
function formatProblem(facts: Facts, index: number, { name, problems }: NamedFile): string | undefined {
  const code = String(facts[`problem_${index}`]);
  const expected = facts[`expected_${index}`];
  const wording = problems[code] ?? PROBLEMS[code];
  if (!wording) return undefined;
  return `${facts[`path_${index}`] || 'the whole file'} ${wording(expected === undefined ? '' : String(expected), name)}`;
}
