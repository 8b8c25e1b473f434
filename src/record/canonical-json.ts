/**
 * The one way to write a record down: canonical JSON, RFC 8785. Equal records have equal bytes, and so an equal hash.
 *
 * Names are in the order of their UTF-16 codes, numbers as ECMAScript writes them, nothing stands between the signs.
 * Throws a RangeError for what JSON cannot hold: a number that is not finite, half of a character, no value at all.
 */
import serialize from 'canonicalize';

/** Half of a character by itself: UTF-8 has no bytes for it. */
const HALF = /\p{Cs}/u;

export function canonicalJson(value: unknown): string {
  let text: string | undefined;
  try {
    text = serialize(value);
  } catch (cause) {
    throw new RangeError(`not a record: ${(cause as Error).message}`, { cause });
  }
  if (text === undefined) throw new RangeError('not a record: there is no value');
  // Halves of characters were written as escapes; whole ones never are.
  if (/\\ud[89a-f]/.test(text) && hasHalf(JSON.parse(text))) throw new RangeError('not a record: half of a character');
  return text;
}

function hasHalf(value: unknown): boolean {
  if (typeof value === 'string') return HALF.test(value);
  if (typeof value !== 'object' || value === null) return false;
  return Object.entries(value).some(([key, part]) => HALF.test(key) || hasHalf(part));
}
