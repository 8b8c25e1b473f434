/**
 * Rows as comma-separated values, RFC 4180. A text that a spreadsheet would take for a formula gets an apostrophe before
 * it, which spreadsheets do not show; numbers are written as they are, with a point.
 */
export type Cell = string | number | null;

export function renderCsv(head: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return [head, ...rows].map((row) => `${row.map(renderCell).join(',')}\r\n`).join('');
}

function renderCell(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  const text = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
