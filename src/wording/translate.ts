/** Words for people, from one file per language. Messages are in ICU syntax: `{count, plural, one {# mark} other {# marks}}`. */
import { IntlMessageFormat, type PrimitiveType } from 'intl-messageformat';
import words from './en.json' with { type: 'json' };

export type MessageKey = keyof typeof words;

const LANGUAGE = 'en';
const formats = new Map<MessageKey, IntlMessageFormat>();

export function translate(key: MessageKey, values: Readonly<Record<string, PrimitiveType>> = {}): string {
  let format = formats.get(key);
  if (!format) {
    format = new IntlMessageFormat(words[key], LANGUAGE);
    formats.set(key, format);
  }
  return format.format(values) as string;
}

/** Whether there are words for a key that was put together at run time, from a code that came from elsewhere. */
export function isMessageKey(key: string): key is MessageKey {
  return Object.hasOwn(words, key);
}
