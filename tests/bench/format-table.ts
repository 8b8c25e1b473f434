/** Columns aligned with spaces; the first to the left, the others to the right. */
export function formatTable(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const lines = [head, ...rows];
  const widths = head.map((_, c) => Math.max(...lines.map((line) => line[c].length)));
  const layOut = (line: readonly string[]) =>
    line.map((cell, c) => (c === 0 ? cell.padEnd(widths[c]) : cell.padStart(widths[c]))).join('   ');
  return [layOut(head), widths.map((width) => '-'.repeat(width)).join('   '), ...rows.map(layOut)].join('\n');
}
