/** Plain text for a terminal: wrapped paragraphs and aligned columns, at most `WIDTH` characters wide. */

export const WIDTH = 100;

/** Breaks at spaces; the first line begins with `first`, the others with as many spaces. A longer word stays whole. */
export function wrapText(text: string, first = ''): string {
  const lines: string[] = [];
  const rest = ' '.repeat(first.length);
  let line = first;
  let empty = true;
  for (const word of text.split(/\s+/)) {
    if (!empty && line.length + 1 + word.length > WIDTH) {
      lines.push(line);
      line = rest;
      empty = true;
    }
    line += empty ? word : ` ${word}`;
    empty = false;
  }
  return [...lines, line].join('\n');
}

/** Rows of cells in columns; `flush` has an `l` or `r` for each column. */
export function alignColumns(flush: string, rows: readonly (readonly string[])[]): string {
  const widths = Array.from(flush, (_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  const place = (cell: string, column: number) =>
    flush[column] === 'r' ? cell.padStart(widths[column]!) : cell.padEnd(widths[column]!);
  return rows.map((row) => `  ${row.map(place).join('  ')}`.trimEnd()).join('\n');
}

/**
 * What somebody else wrote, as a terminal may show it: no control characters, which move the cursor or worse, and nothing that
 * turns the direction of writing. Lines and tabs stay.
 */
export function stripControls(text: string): string {
  return text.replace(/(?![\n\t])\p{Cc}|[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, '\ufffd');
}
