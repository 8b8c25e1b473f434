/**
 * What is wrong with a file that somebody wrote by hand, from the issues of its schema: the field, the kind of problem
 * and, where it helps, the limit, the type or the words that are allowed. As facts of a refusal they are numbered from 1.
 */
import type { z } from 'zod';

export interface FieldProblem {
  readonly path: string;
  readonly problem: string;
  readonly expected?: number | string;
}

/** Problems listed in one refusal; the count tells how many there are. */
const LISTED = 12;

export function describeProblems({ issues }: z.core.$ZodError): FieldProblem[] {
  return issues.flatMap(describeIssue);
}

/** `reason` `problems`, `count`, and `path_1`, `problem_1`, `expected_1` for each of the first twelve. */
export function factsOfProblems(problems: readonly FieldProblem[]): Record<string, number | string> {
  const facts: Record<string, number | string> = { reason: 'problems', count: problems.length };
  problems.slice(0, LISTED).forEach(({ path, problem, expected }, index) => {
    facts[`path_${index + 1}`] = path;
    facts[`problem_${index + 1}`] = problem;
    if (expected !== undefined) facts[`expected_${index + 1}`] = expected;
  });
  return facts;
}

function describeIssue(issue: z.core.$ZodIssue): FieldProblem[] {
  const path = pathText(issue.path);
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({ path: pathText([...issue.path, key]), problem: 'unknown-field' }));
    case 'invalid_type':
      if (issue.input === undefined) return [{ path, problem: 'missing', expected: issue.expected }];
      return [{ path, problem: 'wrong-type', expected: issue.expected }];
    case 'too_small':
      return [{ path, problem: 'too-small', expected: Number(issue.minimum) }];
    case 'too_big':
      return [{ path, problem: 'too-large', expected: Number(issue.maximum) }];
    case 'invalid_value':
      if (issue.input === undefined) return [{ path, problem: 'missing', expected: issue.values.join(', ') }];
      return [{ path, problem: 'not-allowed', expected: issue.values.join(', ') }];
    case 'custom':
      return [{ path, problem: issue.message }];
    default:
      return [{ path, problem: 'not-allowed' }];
  }
}

function pathText(path: readonly PropertyKey[]): string {
  return path.reduce<string>((text, part) => {
    if (typeof part === 'number') return `${text}[${part}]`;
    return text === '' ? String(part) : `${text}.${String(part)}`;
  }, '');
}
