/** The name of a file as somebody else's system gave it, as it may be shown: one line, no folders, no tricks. */

const MAX_CHARACTERS = 200;
const NAMELESS = 'photograph';

/** Control characters, halves of characters, and what turns the direction of writing (Bidi_Control): it hides endings. */
const UNSHOWN = /[\p{Cc}\p{Cs}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu;

/** Ordinary names stay as they are: a reading names its photographs. */
export function cleanName(given: string): string {
  const name = given.split(/[/\\]/).at(-1)!.replace(UNSHOWN, '').trim();
  return name === '' ? NAMELESS : [...name].slice(0, MAX_CHARACTERS).join('');
}
