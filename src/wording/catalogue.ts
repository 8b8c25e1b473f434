/**
 * Everything that is said to people stands in the catalogue, src/wording/en: messages in ICU syntax, a file for each
 * topic. Code chooses a message and hands over its numbers; it holds no sentences.
 *
 * Numbers come in as they are to be read or as they are: a whole number stays whole, any other is shown to two
 * significant figures. What is missing reads `none`, so that a message can do without it:
 * `{pid, select, none {} other { (process {pid})}}`.
 */
import { IntlMessageFormat } from 'intl-messageformat';
import { formatFigures } from './numbers.ts';

const LANGUAGE = 'en';
const MISSING = 'none';
/** Facts that are worth more than two figures. */
const FIGURES: Readonly<Record<string, number>> = {
  megapixels: 3,
  limit_megapixels: 3,
  file_mib: 4,
  limit_mib: 4,
  coverage_pct: 3,
  height_px: 3,
};

export type Values = Readonly<Record<string, string | number | null | undefined>>;

/** A sentence, and what to do about it. */
export interface MessageAndRemedy {
  readonly message: string;
  readonly remedy: string;
}

export interface Topic<Key extends string> {
  readonly keys: readonly Key[];
  has(key: string): key is Key;
  translate(key: Key, values?: Values): string;
  /** For a code that comes from elsewhere; throws RangeError where there is no message for it: a fault of the program. */
  translateCode(code: string, values?: Values): string;
  /** The message of a code, and the one beside it whose key ends in `.remedy`. */
  translateBoth(code: string, values?: Values): MessageAndRemedy;
}

let transform: ((message: string) => string) | null = null;
let transformed = 0;

/** Puts every message through `next` before it is used: a pseudo-language, which shows what never passed the catalogue. */
export function transformMessages(next: ((message: string) => string) | null): void {
  transform = next;
  transformed++;
}

/** One file of the catalogue. A message is read when it is first needed: a program says few of them. */
export function openTopic<Messages extends Readonly<Record<string, string>>>(
  messages: Messages,
): Topic<keyof Messages & string> {
  type Key = keyof Messages & string;
  let formats = new Map<string, IntlMessageFormat>();
  let known = transformed;

  const has = (key: string): key is Key => Object.hasOwn(messages, key);
  const translate = (key: string, values: Values = {}): string => {
    if (!has(key)) throw new RangeError(`no message "${key}"`);
    const message = transform ? transform(messages[key]!) : messages[key]!;
    if (!message.includes('{')) return message;
    if (known !== transformed) formats = new Map();
    known = transformed;
    let format = formats.get(key);
    if (!format) {
      format = new IntlMessageFormat(message, LANGUAGE, undefined, { ignoreTag: true });
      formats.set(key, format);
    }
    return format.format(new Proxy(values, READ) as Record<string, string>) as string;
  };
  return {
    keys: Object.keys(messages) as Key[],
    has,
    translate,
    translateCode: translate,
    translateBoth: (code, values) => ({
      message: translate(code, values),
      remedy: translate(`${code}.remedy`, values),
    }),
  };
}

const READ: ProxyHandler<Values> = {
  has: () => true,
  get: (values, name) => {
    const value = typeof name === 'string' ? values[name] : undefined;
    if (value === undefined || value === null) return MISSING;
    return typeof value === 'number' && !Number.isInteger(value)
      ? formatFigures(value, FIGURES[name as string] ?? 2)
      : String(value);
  },
};
