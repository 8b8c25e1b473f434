/**
 * Text for a terminal. Renderers write lines: paragraphs that may be broken, cells of tables, plain headings; `layOut` fits
 * them to a width, and gives them weight and colour where the terminal shows any.
 */
import { makeSafe } from '../../wording/make-safe.ts';

export interface TextStyle {
  /** Characters to a line; a terminal's own, as far as lines of that length can be read. */
  readonly width?: number;
  readonly colors?: boolean;
}

const WIDTH = 100;
const MIN_WIDTH = 40;

/** Signs that stand in no text (private use): where a paragraph begins, what parts cells, and how a cell is judged. */
const PARAGRAPH = '\ue000';
const CELL = '\ue001';
const MARKS = { within: '\ue002', outside: '\ue003', undecided: '\ue004' } as const;
/** Of what a terminal obeys: colours of letters, heavy letters, and the end of either. */
const COLORS = { within: 32, outside: 31, undecided: 33 } as const;
const BOLD = 1;
const set = (code: number, text: string) => `\u001b[${code}m${text}\u001b[${code === BOLD ? 22 : 39}m`;

/** A paragraph: its first line begins with `first`, the others with as many spaces. */
export function wrapText(text: string, first = ''): string {
  return `${first}${PARAGRAPH}${text.replace(/\s+/g, ' ')}`;
}

/** Rows of cells in columns; `flush` has an `l` or `r` for each column. */
export function alignColumns(flush: string, rows: readonly (readonly string[])[]): string {
  return rows.map((row) => [`${CELL}${flush}`, ...row].join(CELL)).join('\n');
}

/** A cell that says how something was judged. */
export function markVerdict(cell: string, verdict: keyof typeof MARKS): string {
  return `${MARKS[verdict]}${cell}`;
}

/** The first line of all and headings are set off. The hyphen is what programs that read the text take for a minus. */
export function layOut(text: string, { width = WIDTH, colors = false }: TextStyle = {}): string {
  const widest = Math.max(MIN_WIDTH, Math.min(WIDTH, width));
  const lines = makeSafe(text, 'terminal').replaceAll('−', '-').split('\n');
  const laid: string[] = [];
  for (let at = 0; at < lines.length; at++) {
    const line = lines[at]!;
    if (line.startsWith(CELL)) {
      const end = lines.findIndex((other, index) => index > at && !other.startsWith(CELL));
      const rows = lines.slice(at, end < 0 ? undefined : end);
      laid.push(...layTable(rows, widest, colors));
      at += rows.length - 1;
    } else {
      const isHeading = at === 0 || (!line.includes(PARAGRAPH) && lines[at - 1] === '' && line !== '');
      const parts = breakLine(isHeading && !line.includes(PARAGRAPH) ? `${PARAGRAPH}${line}` : line, widest);
      laid.push(...(isHeading && colors ? parts.map((part) => set(BOLD, part)) : parts));
    }
  }
  return laid.join('\n');
}

/** A space, but none between a figure and its unit or its uncertainty. */
const BREAK = /(?<!±) (?!(?:%|±|mm|px|arcmin|deg|turns?)(?:[\s,.;:)]|$))/;

/** A longer word stays whole. */
function breakLine(text: string, width: number): string[] {
  const [first, rest] = text.split(PARAGRAPH);
  if (rest === undefined) return [text];
  const lines: string[] = [];
  const indent = ' '.repeat(first!.length);
  let line = first!;
  let isEmpty = true;
  for (const word of rest.split(BREAK)) {
    if (!isEmpty && line.length + 1 + word.length > width) {
      lines.push(line);
      line = indent;
      isEmpty = true;
    }
    line += isEmpty ? word : ` ${word}`;
    isEmpty = false;
  }
  return [...lines, line];
}

const INDENT = 2;
const GAP = 2;
const GUTTER = ' '.repeat(GAP);
const MIN_CELL = 20;

/** Columns that find no room stand below, behind the first one again. */
function layTable(lines: readonly string[], width: number, colors: boolean): string[] {
  const [flush = ''] = lines[0]!.slice(1).split(CELL);
  const rows = lines.map((line) => line.slice(1).split(CELL).slice(1));
  const widths = Array.from(flush, (_, column) => Math.max(...rows.map((row) => bare(row[column] ?? '').length)));
  const parts: number[][] = [];
  let used = Number.POSITIVE_INFINITY;
  for (let column = 1; column < widths.length; column++) {
    const isBroken = column === widths.length - 1 && flush[column] === 'l';
    const needed = GAP + Math.min(widths[column]!, isBroken ? MIN_CELL : Number.POSITIVE_INFINITY);
    if (used + needed > width) {
      parts.push([0]);
      used = INDENT + widths[0]!;
    }
    parts.at(-1)!.push(column);
    used += needed;
  }
  if (parts.length === 0) parts.push([0]);
  const place = (row: readonly string[], column: number) => {
    const cell = row[column] ?? '';
    const filling = ' '.repeat(widths[column]! - bare(cell).length);
    const painted = paint(cell, colors);
    return flush[column] === 'r' ? `${filling}${painted}` : `${painted}${filling}`;
  };
  return parts.flatMap((columns) =>
    rows.flatMap((row) => {
      const [last, ...before] = columns.toReversed() as [number, ...number[]];
      const start = [' '.repeat(INDENT - GAP), ...before.toReversed().map((column) => place(row, column)), ''].join(
        GUTTER,
      );
      return flush[last] === 'r'
        ? [`${start}${place(row, last)}`.trimEnd()]
        : breakBehind(start, row[last] ?? '', width, colors);
    }),
  );
}

/** A long last cell is broken behind what stands before it. */
function breakBehind(start: string, cell: string, width: number, colors: boolean): string[] {
  const indent = bare(start).length;
  const lines = breakLine(`${' '.repeat(indent)}${PARAGRAPH}${bare(cell)}`, Math.max(width, indent + MIN_CELL));
  if (lines.length === 1) return [`${start}${paint(cell, colors)}`.trimEnd()];
  return [`${start}${lines[0]!.slice(indent)}`, ...lines.slice(1)];
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: escape sequences of colours begin with one.
const ESCAPES = /\u001b\[\d+m/g;
const bare = (cell: string) => cell.replace(/[\ue002-\ue004]/g, '').replace(ESCAPES, '');

function paint(cell: string, colors: boolean): string {
  const verdict = (Object.keys(MARKS) as (keyof typeof MARKS)[]).find((name) => cell.startsWith(MARKS[name]));
  return verdict && colors ? set(COLORS[verdict], bare(cell)) : bare(cell);
}
