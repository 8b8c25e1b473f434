/**
 * What went wrong beside the photographs: one sentence, and one remedy. The codes are raised by the workspace, the engine
 * behind it and the shells, and by the logbook and its bundles.
 */
import { type MessageAndRemedy, openTopic } from './catalogue.ts';
import messages from './en/failures.json' with { type: 'json' };
import ofLogbook from './en/logbook.json' with { type: 'json' };
import type { Facts } from './refusals.ts';

const failures = openTopic(messages);
const logbook = openTopic(ofLogbook);

export interface WordedFailure extends MessageAndRemedy {
  readonly code: string;
}

type CodeOf<Key extends string> = Key extends `${string}.remedy` ? never : Key;
export type FailureCode = CodeOf<keyof typeof messages>;
export type LogbookWordCode = CodeOf<keyof typeof ofLogbook>;

export const FAILURE_CODES = failures.keys.filter((key): key is FailureCode => !key.endsWith('.remedy'));

export function translateFailure(code: FailureCode, facts: Facts = {}): WordedFailure {
  return { code, ...failures.translateBoth(code, facts) };
}

/** What the logbook and its bundles have to say. */
export function translateLogbook(code: LogbookWordCode, facts: Facts = {}): MessageAndRemedy {
  return logbook.translateBoth(code, facts);
}
