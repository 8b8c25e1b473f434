/**
 * The one outlet for text that somebody else wrote (names of files, notes, houses): made safe for the medium that shows it.
 * What a medium obeys instead of showing is replaced by U+FFFD, so that it is seen that something was there.
 */

/** Control characters but tab and the ends of lines, and what turns the direction of writing (Bidi_Control): it hides endings. */
const OBEYED = String.raw`(?!\r\n|[\n\t])\p{Cc}|[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]`;
const UNSHOWN = new RegExp(OBEYED, 'gu');
/** Colours of letters, heavy letters, and the end of either: what our own layout may ask of a terminal. */
const UNSHOWN_OR_PAINT = new RegExp(String.raw`\u001b\[(?:1|22|3[123]|39)m|${OBEYED}`, 'gu');
const REPLACEMENT = '\ufffd';

/**
 *   terminal   lines; nothing that moves the cursor, names the window or worse
 *   painted    the same with the colours of our own layout
 *   line       a name: one line
 *   page       HTML that has been escaped already: nothing that reorders what is read
 *   cell       one cell of a table for spreadsheets, RFC 4180; nothing that they would compute
 */
export type Medium = 'terminal' | 'painted' | 'line' | 'page' | 'cell';

export function makeSafe(text: string, medium: Medium): string {
  if (medium === 'painted')
    return text.replace(UNSHOWN_OR_PAINT, (found) => (found.endsWith('m') ? found : REPLACEMENT));
  const shown = text.replace(UNSHOWN, REPLACEMENT);
  if (medium === 'line') return shown.replace(/[\r\n\t\u2028\u2029]/g, REPLACEMENT);
  return medium === 'cell' ? quoteCell(shown) : shown;
}

/**
 * A spreadsheet takes what begins with one of these for a formula, blanks before it or not, the wide forms of East Asian
 * writing too; an apostrophe before it, which spreadsheets do not show, keeps it a text.
 */
const FORMULA = /^[\s\ufeff]*[=+\-@\uff1d\uff0b\uff0d\uff20\u2212]|^[\t\r\n]/;

function quoteCell(text: string): string {
  const told = FORMULA.test(text) ? `'${text}` : text;
  return /[",\t\r\n]/.test(told) ? `"${told.replaceAll('"', '""')}"` : told;
}

/** A value as one line of JSON for a terminal or whoever reads it: the same value, what is obeyed written as escapes. */
export function formatJsonLine(value: unknown): string {
  const write = (sign: string) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`;
  return `${JSON.stringify(value).replace(UNSHOWN, write)}\n`;
}
