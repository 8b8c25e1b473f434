/**
 * The index: one line for each record, so that a list needs no record to be opened. It is a cache: a line that cannot be
 * read, or is missing, is made again from the record, and a record without a line is as safe as one with it.
 */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { FileSystem } from '../storage/file-system.ts';
import type { EntrySummary } from '../record/entry-summary.ts';
import { INDEX } from './layout.ts';
import { SHA256_PATTERN } from '../record/values.ts';

const INDEX_SCHEMA = 'twinplumb.logbook-index/3';

export interface AdditionSummary {
  readonly id: string;
  readonly entry: string;
  readonly saved_at: string;
  readonly by: string | null;
  readonly note: string | null;
  /** Hashes. */
  readonly photographs: readonly string[];
}

export type IndexLine = { readonly entry: EntrySummary } | { readonly addition: AdditionSummary };

export interface CachedIndex {
  readonly entries: Map<string, EntrySummary>;
  readonly additions: Map<string, AdditionSummary>;
  /** Where it stops in the middle of a line, the next one must not be joined to it. */
  readonly needsRewrite: boolean;
}

export async function readIndex(folder: string): Promise<CachedIndex> {
  const entries = new Map<string, EntrySummary>();
  const additions = new Map<string, AdditionSummary>();
  const text = await readFile(join(folder, INDEX), 'utf8').catch(() => '');
  const [head, ...lines] = text.split('\n');
  if (head !== headLine()) return { entries, additions, needsRewrite: true };
  let isBroken = lines.pop() !== '';
  for (const each of lines) {
    const parsed = parseLine(each);
    if (parsed === undefined) isBroken = true;
    else if ('entry' in parsed) entries.set(parsed.entry.id, parsed.entry);
    else additions.set(parsed.addition.id, parsed.addition);
  }
  return { entries, additions, needsRewrite: isBroken };
}

/** Looked at closely enough to be worked with; a schema's whole check of ten thousand lines takes as long as all the rest. */
function parseLine(text: string): IndexLine | undefined {
  let json: Partial<Record<'entry' | 'addition', Record<string, unknown>>>;
  try {
    json = JSON.parse(text);
  } catch {
    return undefined;
  }
  const summary = json?.entry ?? json?.addition;
  const isUsable =
    SHA256_PATTERN.test(String(summary?.id)) &&
    !Number.isNaN(Date.parse(String(summary?.saved_at))) &&
    Array.isArray(summary?.photographs) &&
    (json.entry === undefined || (isObject(summary?.terms) && isObject(summary?.limits)));
  return isUsable ? (json as unknown as IndexLine) : undefined;
}

function isObject(value: unknown): boolean {
  return typeof value === 'object' && value !== null;
}

export function headLine(): string {
  return JSON.stringify({ schema: INDEX_SCHEMA });
}

export async function appendIndex(folder: string, lines: readonly IndexLine[], fileSystem: FileSystem): Promise<void> {
  if (lines.length > 0)
    await fileSystem.append(join(folder, INDEX), lines.map((each) => `${JSON.stringify(each)}\n`).join(''));
}

export function renderIndex(lines: readonly IndexLine[]): string {
  return [headLine(), ...lines.map((each) => JSON.stringify(each)), ''].join('\n');
}
