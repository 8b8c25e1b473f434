/** With every message of the catalogue in brackets, whatever stands outside them never passed it. */
import { afterAll, beforeAll } from 'vitest';
import { transformMessages } from '../../src/wording/catalogue.ts';

/** For all tests of a file. */
export function speakPseudoLanguage(): void {
  beforeAll(() => transformMessages((message) => `⟦${message}⟧`));
  afterAll(() => transformMessages(null));
}

/** Words outside brackets, messages within messages included; what matches `data` is none of ours. */
export function wordsOutside(text: string, data: RegExp): string[] {
  let depth = 0;
  let rest = '';
  for (const letter of text) {
    if (letter === '⟦') depth++;
    else if (letter === '⟧') depth--;
    else if (depth === 0) rest += letter;
    if (letter === '⟧') rest += ' ';
  }
  if (depth !== 0) throw new Error('a message was cut');
  return [...new Set(rest.replace(data, ' ').match(/\p{L}{3,}/gu) ?? [])];
}
