/**
 * Everything that a logbook holds, looked at from outside: each hash, each link, and each reading measured again from its
 * photographs. Nothing is moved or written; every fault is named.
 */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { canonicalJson } from '../record/canonical-json.ts';
import type { Addition, Entry, KeptPhotograph } from '../record/entry.ts';
import { summariseEntry, TREND_FIELDS } from '../record/entry-summary.ts';
import type { House } from '../record/house.ts';
import type { MeasuredReading, Reading } from '../record/reading.ts';
import type { PhotographRole } from '../record/roles.ts';
import { summariseAddition } from './catalogue.ts';
import { hashFile } from './hash.ts';
import { type CachedIndex, readIndex } from './index-cache.ts';
import { INDEX, placeOfPhotograph, type RecordSort } from './layout.ts';
import { listPhotographs, listRecords } from './list-files.ts';
import { judgeRecord } from './read-record.ts';

/**
 *   record-altered, record-broken, record-invalid   a record is not what its name says; is no JSON; lacks a field
 *   record-newer          of a newer program: its content cannot be checked here
 *   record-missing        the index knows it, or another record points at it, and it is not there
 *   index-differs         the index, from which lists and trends are read, says other than the record
 *   photograph-altered, photograph-missing          as the hash says
 *   photograph-misplaced  in another folder, or with another ending, than it is looked for; or a copy of one
 *   symbolic-link         a file that points elsewhere
 *   stranger              a file that is none of the logbook's
 *   reading-differs       measured again by the same version, and not the same to the last bit
 *   reading-apart         measured again by another version, and a term is off by more than its uncertainty
 *   reading-failed        cannot be measured again, or is refused now
 */
export type ProblemCode =
  | 'record-altered'
  | 'record-broken'
  | 'record-invalid'
  | 'record-newer'
  | 'record-missing'
  | 'index-differs'
  | 'photograph-altered'
  | 'photograph-missing'
  | 'photograph-misplaced'
  | 'symbolic-link'
  | 'stranger'
  | 'reading-differs'
  | 'reading-apart'
  | 'reading-failed';

export interface Problem {
  readonly code: ProblemCode;
  /** The record that it concerns. */
  readonly id: string | null;
  readonly file: string | null;
  readonly facts: Readonly<Record<string, number | string>>;
}

export interface VerifyReport {
  readonly entries: number;
  readonly additions: number;
  readonly photographs: number;
  /** Photographs that no record names: left by a write that was broken off. No fault. */
  readonly unclaimed: number;
  readonly remeasured: number;
  readonly problems: readonly Problem[];
}

export interface PhotographToMeasure {
  readonly role: PhotographRole;
  readonly path: string;
  readonly name: string;
}

export interface Remeasurement {
  /** In the order in which they were measured. */
  readonly photographs: readonly PhotographToMeasure[];
  readonly house: House | null;
  readonly parameters: Entry['parameters'];
}

export interface VerifyOptions {
  readonly folder: string;
  readonly softwareVersion: string;
  /** Left out: readings are not measured again. */
  readonly measure?: (options: Remeasurement) => Promise<Reading>;
  readonly onProgress?: (done: number, of: number) => void;
  /** Gives it up between two files. */
  readonly signal?: AbortSignal;
}

export async function verifyLogbook(options: VerifyOptions): Promise<VerifyReport> {
  const { folder } = options;
  const [records, stored, index] = await Promise.all([listRecords(folder), listPhotographs(folder), readIndex(folder)]);
  const problems: Problem[] = [];
  const addProblem = (code: ProblemCode, id: string | null, file: string | null, facts: Problem['facts'] = {}) =>
    problems.push({ code, id, file, facts });
  for (const file of [...records.links, ...stored.links]) addProblem('symbolic-link', null, file);
  for (const file of [...records.strangers, ...stored.strangers]) addProblem('stranger', null, file);
  for (const id of index.entries.keys()) if (!records.entries.has(id)) addProblem('record-missing', id, null);
  for (const id of index.additions.keys()) if (!records.additions.has(id)) addProblem('record-missing', id, null);

  const altered = new Set<string>();
  const files = [...stored.photographs].map(([sha256, place]) => ({ sha256, place }));
  for (const { sha256, place } of [...files, ...stored.misplaced]) {
    options.signal?.throwIfAborted();
    const found = await hashFile(join(folder, place)).catch((error: NodeJS.ErrnoException) => error);
    if (found === sha256) continue;
    altered.add(sha256);
    addProblem(
      'photograph-altered',
      null,
      place,
      typeof found === 'string' ? {} : { system_code: found.code ?? 'unknown' },
    );
  }

  const places = new Map(stored.photographs);
  for (const { sha256, place } of stored.misplaced) if (!places.has(sha256)) places.set(sha256, place);
  const claimed = new Set<string>();
  const told = new Set<string>();
  const check = async (sort: RecordSort, id: string, place: string): Promise<Entry | Addition | undefined> => {
    const bytes = await readFile(join(folder, place)).catch((error: NodeJS.ErrnoException) => error);
    if (bytes instanceof Error) {
      addProblem('record-broken', id, place, { system_code: bytes.code ?? 'unknown' });
      return undefined;
    }
    const found = judgeRecord(sort, id, bytes);
    if (found.outcome !== 'read') {
      const facts = found.outcome === 'newer' ? { schema: found.schema } : {};
      addProblem(`record-${found.outcome}`, id, place, facts);
      return undefined;
    }
    const { record } = found;
    const photographs: readonly KeptPhotograph[] = 'shots' in record ? record.shots : record.photographs;
    for (const { sha256, name, ending } of photographs) {
      claimed.add(sha256);
      const place = places.get(sha256);
      const expected = placeOfPhotograph(sha256, ending);
      if (place === undefined) addProblem('photograph-missing', id, expected, { name });
      else if (place !== expected && !told.has(place)) {
        told.add(place);
        addProblem('photograph-misplaced', id, place, { name, expected });
      }
    }
    const links = 'shots' in record ? [record.follows, record.replaces?.entry ?? null] : [record.entry];
    for (const link of links)
      if (link !== null && !records.entries.has(link)) addProblem('record-missing', link, null, { named_by: id });
    if (!isIndexed(id, record, index)) addProblem('index-differs', id, INDEX);
    return record;
  };

  let done = 0;
  let remeasured = 0;
  for (const [id, place] of records.entries) {
    options.signal?.throwIfAborted();
    const entry = (await check('entry', id, place)) as Entry | undefined;
    const isWhole = entry?.shots.every(({ sha256 }) => places.has(sha256) && !altered.has(sha256));
    if (entry && isWhole && options.measure) {
      const problem = await measureAgain(entry, folder, places, options.measure, options.softwareVersion);
      if (problem !== 'not-measured') remeasured += 1;
      if (typeof problem === 'object') addProblem(problem.code, id, place, problem.facts);
    }
    done += 1;
    options.onProgress?.(done, records.entries.size);
  }
  for (const [id, place] of records.additions) await check('addition', id, place);
  for (const { place } of stored.misplaced) if (!told.has(place)) addProblem('photograph-misplaced', null, place);
  return {
    entries: records.entries.size,
    additions: records.additions.size,
    photographs: places.size,
    unclaimed: [...places.keys()].filter((sha256) => !claimed.has(sha256)).length,
    remeasured,
    problems,
  };
}

/** What is put into words may be worded otherwise by another version; a line that is missing is made again without a word. */
function isIndexed(id: string, record: Entry | Addition, index: CachedIndex): boolean {
  const line = 'shots' in record ? index.entries.get(id) : index.additions.get(id);
  if (line === undefined) return true;
  const made = 'shots' in record ? summariseEntry(id, record) : summariseAddition(id, record);
  const factsOf = (summary: object) => canonicalJson({ ...JSON.parse(JSON.stringify(summary)), sentence: null });
  return factsOf(line) === factsOf(made);
}

type Judgement = 'same' | 'not-measured' | { readonly code: ProblemCode; readonly facts: Problem['facts'] };

async function measureAgain(
  entry: Entry,
  folder: string,
  places: ReadonlyMap<string, string>,
  measure: NonNullable<VerifyOptions['measure']>,
  version: string,
): Promise<Judgement> {
  // A refused reading may name only the photographs before the one that was refused.
  const named = entry.shots.map((shot) => {
    const index = entry.reading.shots.findIndex(({ role, sha256 }) => role === shot.role && sha256 === shot.sha256);
    const { role, sha256 } = shot;
    const name = entry.reading.shots[index]?.file ?? shot.name;
    return {
      order: index < 0 ? entry.shots.length : index,
      role,
      path: join(folder, places.get(sha256)!),
      name,
    };
  });
  const photographs = named.toSorted((a, b) => a.order - b.order).map(({ order: _, ...photograph }) => photograph);
  const has = (role: PhotographRole) => photographs.some((photograph) => photograph.role === role);
  if (!has('bare') && !(has('left-lens') && has('right-lens'))) return 'not-measured';
  let again: Reading;
  try {
    again = await measure({
      photographs,
      house: entry.house,
      parameters: entry.parameters,
    });
  } catch (error) {
    return { code: 'reading-failed', facts: { reason: (error as Error).message } };
  }
  return compareReadings(entry.reading, again, version);
}

/** What earlier rounds had taught, the advice by it and its words: not to be had from the photographs alone. */
const BY_EARLIER_ROUNDS: readonly string[] = [
  'learning',
  'advice',
  'turns',
  'trial_turns',
  'predicted_after',
  'incurable',
  'sentence',
  'cautions',
];

/** What measuring again gives, of a reading with advice by what earlier rounds had taught or without. */
function ofPhotographs({ measured_at: _, ...reading }: Reading, isTaught: boolean): object {
  if (!isTaught) return reading;
  return Object.fromEntries(Object.entries(reading).filter(([field]) => !BY_EARLIER_ROUNDS.includes(field)));
}

/** By the same version: to the last bit. By another: each term within the larger of both uncertainties. */
export function compareReadings(kept: Reading, again: Reading, version: string): Judgement {
  if (kept.software.version === version) {
    const isTaught = kept.outcome === 'measured' && kept.learning !== undefined;
    const [first, second] = [kept, again].map((reading) => ofPhotographs(reading, isTaught)) as [object, object];
    return canonicalJson(first) === canonicalJson(second)
      ? 'same'
      : { code: 'reading-differs', facts: { version, field: firstDifference(first, second) } };
  }
  const facts = { version: kept.software.version, by: version };
  if (kept.outcome !== again.outcome) return { code: 'reading-failed', facts: { ...facts, reason: again.outcome } };
  if (kept.outcome === 'refused' || again.outcome === 'refused') return 'same';
  for (const field of TREND_FIELDS) {
    const [a, b] = [termOf(kept, field), termOf(again, field)];
    if (!a || !b) continue;
    const u = Math.max(a.u, b.u);
    const off = Math.abs(b.value - a.value);
    if (off > u) return { code: 'reading-apart', facts: { ...facts, field, off, u } };
  }
  return 'same';
}

function termOf({ misalignment, eyes }: MeasuredReading, field: (typeof TREND_FIELDS)[number]) {
  return field === 'crosstalk_left_pct' || field === 'crosstalk_right_pct' ? eyes[field] : misalignment[field];
}

function firstDifference(a: object, b: object): string {
  const keys = [...new Set([...Object.keys(a), ...Object.keys(b)])] as (keyof object)[];
  return keys.find((key) => JSON.stringify(a[key] ?? null) !== JSON.stringify(b[key] ?? null)) ?? '';
}
