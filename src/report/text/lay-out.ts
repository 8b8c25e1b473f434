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

/** Rows of cells in columns; the first column and the last are flush left, the others flush right. */
export function alignColumns(rows: readonly (readonly string[])[], indent = '  '): string {
  const widths: number[] = [];
  for (const row of rows) row.forEach((cell, i) => (widths[i] = Math.max(widths[i] ?? 0, cell.length)));
  const last = widths.length - 1;
  return rows
    .map((row) =>
      (
        indent +
        row.map((cell, i) => (i === 0 || i === last ? cell.padEnd(widths[i]!) : cell.padStart(widths[i]!))).join('  ')
      ).trimEnd(),
    )
    .join('\n');
}
