/**
 * Why no honest answer is possible, and what to do: one sentence each. Numbers come from the refusal's facts; where
 * one is missing the sentence does without it.
 */
import type { PhotographRole } from '../record/roles.ts';
import { type MessageAndRemedy, openTopic } from './catalogue.ts';
import files from './en/files.json' with { type: 'json' };
import messages from './en/refusals.json' with { type: 'json' };

const refusals = openTopic(messages);
const ofFiles = openTopic(files);

export type Facts = Readonly<Record<string, number | string>>;
export type RefusedShot = PhotographRole | null;

/** Codes of one kind: those whose keys begin with `prefix`, without what stands beside them. */
const codesUnder = (prefix: string): string[] =>
  refusals.keys
    .filter((key) => key.startsWith(prefix) && !key.endsWith('.remedy'))
    .map((key) => key.slice(prefix.length))
    .filter((code) => !code.includes('.'));

/** Of learning from rounds. */
const LEARNING_CODES = [
  'no-adjustments',
  'no-such-adjustment',
  'same-photographs',
  'eyes-exchanged',
  'another-house',
] as const;
const NO_REFUSALS: readonly string[] = LEARNING_CODES;

/** Those of a measurement, which the command line promises; those of learning stand apart. */
export const REFUSAL_CODES: readonly string[] = [
  ...codesUnder('').filter((code) => !NO_REFUSALS.includes(code)),
  'invalid-house',
];
export const LEARNING_REFUSAL_CODES: readonly string[] = LEARNING_CODES;
export const UNREADABLE_REASONS = codesUnder('unreadable-photo.');
export const UNSUPPORTED_FORMATS_AND_CONTENTS = codesUnder('unsupported-format.');

/** Throws RangeError on an unknown code: a refusal without a message is a fault of the program. */
export function translateRefusal(code: string, facts: Facts, shot: RefusedShot): MessageAndRemedy {
  return translateOf('', code, facts, shot);
}

/** Why photographs of the two ports tell nothing: some is said otherwise of ports than of the target. */
export function translatePortRefusal(code: string, facts: Facts, shot: RefusedShot): MessageAndRemedy {
  return translateOf('ports.', code, facts, shot);
}

/** Why a series of photographs gives no null. */
export function translateNullRefusal(code: string, facts: Facts): MessageAndRemedy {
  return translateOf('null.', code, facts, null);
}

/** Why photographs allow no honest figure of light. `shot`: the role of the photograph, null where it lies in none alone. */
export function translateLightRefusal(code: string, facts: Facts, shot: string | null): MessageAndRemedy {
  return translateOf('light.', code, facts, shot);
}

/** Those that only ports, or only a series, can have; others are said otherwise there than of the target. */
export const PORT_REFUSAL_CODES = codesUnder('ports.').filter((code) => !refusals.has(code));
export const NULL_REFUSAL_CODES = codesUnder('null.').filter((code) => !refusals.has(code));
export const LIGHT_REFUSAL_CODES = codesUnder('light.');

function translateOf(prefix: string, code: string, facts: Facts, shot: string | null): MessageAndRemedy {
  if (code === 'invalid-house') return translateInvalidFile(facts, 'house');
  const key = refusals.has(prefix + code) ? prefix + code : code;
  const role = shot !== null && refusals.has(`shot.${shot}`) ? shot : 'none';
  const values = {
    ...facts,
    ...explain(code, facts),
    of: role === 'closing' || role === 'none' ? role : 'given',
    shot:
      facts.among === undefined
        ? refusals.translateCode(`shot.${role}`)
        : refusals.translateCode('shot.among', {
            shot: refusals.translateCode(`shot.${role}`),
            among: String(facts.among),
          }),
    shot_inside: refusals.translateCode(`shot-inside.${role}`),
  };
  return {
    message: refusals.translateCode(key, values),
    remedy: refusals.translateCode(remedyOf(key, facts, shot), values),
  };
}

/** What a few messages need beside their facts as they are. */
function explain(code: string, facts: Facts): Record<string, string | undefined> {
  switch (code) {
    case 'unreadable-photo':
      return { what: refusals.translateCode(reasonKey(facts)) };
    case 'unsupported-format':
      return { what: refusals.translateCode(formatKey(facts)) };
    case 'steps-alias':
      return { step: round(facts.step_deg), other_step: round(facts.other_step_deg) };
    default:
      return {};
  }
}

function remedyOf(key: string, facts: Facts, shot: string | null): string {
  if (key === 'unreadable-photo') return `${reasonKey(facts)}.remedy`;
  if (key === 'unsupported-format') return `${formatKey(facts)}.remedy`;
  const own = `${key}.${shot}.remedy`;
  return refusals.has(own) ? own : `${key}.remedy`;
}

function reasonKey({ reason }: Facts): string {
  const key = `unreadable-photo.${reason}`;
  return refusals.has(key) ? key : 'unreadable-photo.damaged';
}

/** What is in the file goes before its format. */
function formatKey({ reason, format }: Facts): string {
  const keys = [`unsupported-format.${reason}`, `unsupported-format.${format}`];
  return keys.find((key) => refusals.has(key)) ?? 'unsupported-format.unknown';
}

function round(degrees: number | string | undefined): string | undefined {
  return typeof degrees === 'number' ? String(Math.round(degrees)) : undefined;
}

/** Files that somebody writes by hand, and the schema name that each begins with. */
const SCHEMAS = { house: 'twinplumb.house/1', 'light-chain': 'twinplumb.light-chain/1' } as const;
type WrittenFile = keyof typeof SCHEMAS;

const problemsOf = (file: WrittenFile): string[] =>
  [`problem.`, `${file}.`].flatMap((prefix) =>
    ofFiles.keys
      .filter((key) => key.startsWith(prefix) && !/\.(remedy|none)$/.test(key))
      .map((key) => key.slice(prefix.length)),
  );

export const HOUSE_PROBLEMS: readonly string[] = problemsOf('house');
export const LIGHT_CHAIN_PROBLEMS: readonly string[] = problemsOf('light-chain');

export function translateInvalidHouse(facts: Facts): MessageAndRemedy {
  return translateInvalidFile(facts, 'house');
}

export function translateInvalidLightChain(facts: Facts): MessageAndRemedy {
  return translateInvalidFile(facts, 'light-chain');
}

/** The first problem in the sentence, the rest counted. */
function translateInvalidFile(facts: Facts, file: WrittenFile): MessageAndRemedy {
  const values = { ...facts, name: ofFiles.translate(file), supported: facts.supported ?? SCHEMAS[file] };
  switch (facts.reason) {
    case 'unreadable':
    case 'not-json':
    case 'newer-version':
      return ofFiles.translateBoth(facts.reason, values);
    case 'not-a-house':
    case 'not-a-light-chain':
      return ofFiles.translateBoth('other-schema', values);
    default: {
      const problem = translateProblem(facts, 1, file);
      const more = typeof facts.count === 'number' && facts.count > 1 ? facts.count - 1 : undefined;
      return {
        message: ofFiles.translate(problem === undefined ? 'problem.none' : 'problem', { ...values, problem, more }),
        remedy: ofFiles.translate('problem.remedy', values),
      };
    }
  }
}

/** Every listed problem, one line each, for the diagnostics of the command line. */
export function listHouseProblems(facts: Facts): string[] {
  return listProblems(facts, 'house');
}

export function listLightChainProblems(facts: Facts): string[] {
  return listProblems(facts, 'light-chain');
}

function listProblems(facts: Facts, file: WrittenFile): string[] {
  const lines: string[] = [];
  for (let i = 1; facts[`path_${i}`] !== undefined; i++) {
    const problem = translateProblem(facts, i, file);
    if (problem !== undefined) lines.push(problem);
  }
  return lines;
}

/** "throw_m is too small, at least 1 is needed" */
function translateProblem(facts: Facts, index: number, file: WrittenFile): string | undefined {
  const code = facts[`problem_${index}`];
  const key = [`${file}.${code}`, `problem.${code}`].find((candidate) => ofFiles.has(candidate));
  if (key === undefined) return undefined;
  const expected = facts[`expected_${index}`];
  const what = ofFiles.translateCode(key, {
    expected: expected === undefined || expected === '' ? undefined : String(expected),
    name: ofFiles.translate(file),
  });
  const path = facts[`path_${index}`];
  return path ? ofFiles.translate('place', { path, what }) : ofFiles.translate('place.whole', { what });
}
