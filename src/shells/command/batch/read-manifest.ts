/**
 * A list of sets in a file, for photographs that lie as they lie: JSON, an array of objects, or CSV with a head line; the
 * fields `set`, `bare` or `left` and `right` or all three, and, where wanted, `closing` and `house`. Paths count from the list's own folder.
 */
import { readFile } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { z } from 'zod';
import { wrongUsage } from '../exit-status.ts';
import { listPhotographs } from '../photographs.ts';
import type { PhotographSet } from './find-sets.ts';

const optional = z
  .string()
  .optional()
  .transform((text) => text || undefined);
const row = z.object({
  set: z.string().min(1),
  bare: optional,
  left: optional,
  right: optional,
  closing: optional,
  house: optional,
});

export async function readManifest(path: string): Promise<PhotographSet[]> {
  let text: string;
  try {
    text = (await readFile(path, 'utf8')).replace(/^\uFEFF/, '');
  } catch (error) {
    throw wrongUsage('list-unreadable', { place: path, code: (error as NodeJS.ErrnoException).code });
  }
  const parsed = z.array(row).safeParse(/^\s*\[/.test(text) ? parseJson(text, path) : parseCsv(text));
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    const [index, field] = issue!.path;
    throw typeof index === 'number' && field !== undefined
      ? wrongUsage('list-invalid', { place: path, row: index + 1, field: String(field) })
      : wrongUsage('list-not-rows', { place: path });
  }
  const names = new Set<string>();
  return parsed.data.map(({ set, house, ...files }) => {
    if (names.has(set)) throw wrongUsage('list-set-twice', { place: path, set });
    names.add(set);
    const at = (file: string) => resolve(dirname(path), file);
    const list = (file: string | undefined) => (file === undefined ? [] : [at(file)]);
    const photographs = listPhotographs({
      bare: list(files.bare),
      left: list(files.left),
      right: list(files.right),
      ...(files.closing && { closing: at(files.closing) }),
    });
    return { name: set, photographs, ...(house && { house: at(house) }) };
  });
}

function parseJson(text: string, path: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw wrongUsage('list-not-json', { place: path });
  }
}

/** RFC 4180: fields may be quoted, quotes in them are doubled, lines end with or without a carriage return. */
export function parseCsv(text: string): Record<string, string>[] {
  const rows: string[][] = [[]];
  let field = '';
  let isQuoted = false;
  for (let at = 0; at < text.length; at++) {
    const sign = text[at]!;
    if (isQuoted) {
      if (sign !== '"') field += sign;
      else if (text[at + 1] === '"') field += text[++at];
      else isQuoted = false;
    } else if (sign === '"' && field === '') isQuoted = true;
    else if (sign === ',' || sign === '\n') {
      rows.at(-1)!.push(field);
      field = '';
      if (sign === '\n') rows.push([]);
    } else if (sign !== '\r') field += sign;
  }
  rows.at(-1)!.push(field);
  const [head = [], ...body] = rows.filter((cells) => cells.some((cell) => cell !== ''));
  return body.map((cells) => Object.fromEntries(head.map((name, index) => [name.trim(), cells[index] ?? ''])));
}
