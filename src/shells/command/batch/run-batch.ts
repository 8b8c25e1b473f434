/**
 * `batch`: measures every set below a folder, several at a time, each in an engine of its own. A run that was broken off
 * goes on where it stopped.
 */
import { createHash } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { type Engine, EngineFailure } from '../../../engine/engine.ts';
import { startEngine } from '../../../engine/start-engine.ts';
import type { House } from '../../../record/house.ts';
import { writeAtomically } from '../../../storage/write-atomically.ts';
import { translateCommand } from '../../../wording/command.ts';
import { translateFailure } from '../../../wording/failures.ts';
import { translateReading } from '../../../wording/reading.ts';
import { claimPlace, OWN } from '../claim-place.ts';
import type { CommandWorld } from '../command-world.ts';
import { blameNamedPlace, EXIT, type ExitStatus, requireRange, UsageError, wrongUsage } from '../exit-status.ts';
import { type FailCondition, statusOf } from '../fail-on.ts';
import { readHouseFile } from '../read-house-file.ts';
import { findSets, type PhotographSet, type SkippedPlace } from './find-sets.ts';
import { readManifest } from './read-manifest.ts';
import { BATCH_SCHEMA, listResults, ResultsFile, type SetResult } from './results-file.ts';

export interface BatchOptions {
  readonly shard?: string;
  readonly jobs?: number;
  readonly house?: string;
  readonly aspect?: number;
  readonly out?: string;
  readonly again?: boolean;
  /** Also a table for spreadsheets, of everything in the results. */
  readonly csv?: string;
  readonly failOn?: readonly FailCondition[];
  readonly force?: boolean;
}

const MAX_JOBS = 64;
const EVERY_SET: Shard = { number: 1, of: 1 };

/** `place`: a folder, or a list of sets. */
export async function runBatch(place: string, options: BatchOptions, world: CommandWorld): Promise<ExitStatus> {
  const shard = options.shard === undefined ? EVERY_SET : readShard(options.shard);
  if (!shard) throw wrongUsage('shard-form', { value: options.shard });
  const jobs = options.jobs ?? availableParallelism();
  requireRange('--jobs', jobs, 1, MAX_JOBS);
  const houses = new Houses(options.house);
  await houses.read(undefined);

  let unreadable = 0;
  const all = await listSets(place, ({ place: skipped, why, code }) => {
    if (why === 'unreadable') unreadable += 1;
    world.terminal.remark(`${translateCommand('place-skipped', { place: skipped, code })}\n`);
  });
  const sets = all.filter(({ name }) => isInShard(name, shard));
  const inputs = [place, ...all.flatMap(inputsOf), ...(options.house === undefined ? [] : [options.house])];
  const claim = { inputs, ...(options.force && { force: true }) };
  const csv = options.csv === undefined ? undefined : await claimPlace(options.csv, { ...claim, own: OWN.summary });
  const results = await ResultsFile.open(options.out ?? nameResults(shard), claim);
  try {
    const open = options.again ? sets : sets.filter(({ name }) => !results.settled.has(name));
    const { refused, failed, faults, limits } = await measureAll(open, { results, houses, jobs, options }, world);
    const skipped = sets.length - open.length;
    const counts = { sets: open.length, measured: open.length - refused - failed, refused, failed, skipped };
    world.terminal.print(`${translateCommand('batch-done', counts)}\n`);
    if (csv !== undefined) await writeSummary(csv, results.path);
    if (faults > 0) return EXIT.fault;
    if (failed + unreadable > 0) return EXIT.usage;
    // What earlier runs refused is as much a part of the result as what this one did.
    const wasRefused = !options.again && sets.some(({ name }) => results.settled.get(name) === 'refused');
    if (refused > 0 || wasRefused) return EXIT.refused;
    return limits > 0 ? EXIT.failed : EXIT.measured;
  } finally {
    await results.close();
  }
}

/** The latest result of each set; an interrupted run or another shard may have written the others. */
async function writeSummary(path: string, results: string): Promise<void> {
  const { renderBatchCsv } = await import('../../../report/render-csv.ts');
  try {
    await writeAtomically(path, renderBatchCsv(listResults(await readFile(results, 'utf8'))));
  } catch (error) {
    throw blameNamedPlace(error, 'summary-unwritten', path);
  }
}

function inputsOf({ photographs, house }: PhotographSet): string[] {
  return [...photographs.map(({ path }) => path), ...(house === undefined ? [] : [house])];
}

async function listSets(place: string, onSkipped: (skipped: SkippedPlace) => void): Promise<PhotographSet[]> {
  const found = await stat(place).catch((error: NodeJS.ErrnoException) => {
    throw wrongUsage('place-unreadable', { place, code: error.code });
  });
  const sets = found.isDirectory() ? await findSets(place, onSkipped) : await readManifest(place);
  if (sets.length > 0) return sets;
  throw wrongUsage('no-sets', { place });
}

function nameResults({ number, of }: Shard): string {
  return of === 1 ? 'results.jsonl' : `results-${number}-of-${of}.jsonl`;
}

interface BatchRun {
  readonly results: ResultsFile;
  readonly houses: Houses;
  readonly jobs: number;
  readonly options: BatchOptions;
}

async function measureAll(
  sets: readonly PhotographSet[],
  { results, houses, jobs, options }: BatchRun,
  { terminal, software }: CommandWorld,
): Promise<{ refused: number; failed: number; limits: number; faults: number }> {
  const counts = { done: 0, of: sets.length, refused: 0, failed: 0, limits: 0, faults: 0 };
  const began = performance.now();
  const waiting = [...sets];
  const work = async (engine: Engine): Promise<void> => {
    for (let set = waiting.shift(); set; set = waiting.shift()) {
      const { isFault, ...result } = await measureSet(set, engine, houses, options.aspect, software.version);
      await results.add(result);
      counts.done += 1;
      if (result.outcome === 'refused') counts.refused += 1;
      if (result.outcome === 'failed') counts.failed += 1;
      else if (statusOf(result.reading, options.failOn) === EXIT.failed) counts.limits += 1;
      if (isFault) counts.faults += 1;
      if (terminal.isWatched)
        terminal.progress(formatProgress({ ...counts, elapsed_s: secondsSince(began) }), counts.done === counts.of);
    }
  };
  const workerPath = join(software.root, 'out', 'node', 'engine-worker.js');
  const engines = Array.from({ length: Math.min(jobs, sets.length) }, () => startEngine({ workerPath }));
  try {
    await Promise.all(engines.map(work));
  } finally {
    await Promise.all(engines.map((engine) => engine.close()));
  }
  return counts;
}

async function measureSet(
  { name, photographs, house: own }: PhotographSet,
  engine: Engine,
  houses: Houses,
  aspect: number | undefined,
  softwareVersion: string,
): Promise<SetResult & { readonly isFault?: true }> {
  const began = performance.now();
  const result = { schema: BATCH_SCHEMA, set: name } as const;
  try {
    const house = await houses.read(own);
    const unworded = await engine.run('measure', {
      photographs,
      ...(house && { house }),
      ...(aspect !== undefined && { aspect }),
      softwareVersion,
    });
    const reading = translateReading(unworded);
    return { ...result, seconds: secondsSince(began), outcome: reading.outcome, reading };
  } catch (error) {
    const failed = { ...result, seconds: secondsSince(began), outcome: 'failed' } as const;
    // The house file of one set is no reason to leave the others.
    if (error instanceof UsageError) return { ...failed, failure: error.message };
    if (!(error instanceof EngineFailure)) throw error;
    return { ...failed, failure: translateFailure(error.code).message, isFault: true };
  }
}

function secondsSince(began: number): number {
  return Math.round(performance.now() - began) / 1000;
}

/** House files, each read once. A set's own goes before the common one. */
class Houses {
  readonly #common: string | undefined;
  readonly #read = new Map<string, Promise<House>>();

  constructor(common: string | undefined) {
    this.#common = common;
  }

  async read(own: string | undefined): Promise<House | undefined> {
    const path = own ?? this.#common;
    if (path === undefined) return undefined;
    const house = this.#read.get(path) ?? readHouseFile(path);
    this.#read.set(path, house);
    return house;
  }
}

/**
 * The share of one machine among several: shard 3/20 is the third of twenty. A set belongs to the shard that the hash of
 * its name says, so that the shares neither overlap nor change while other sets come and go.
 */
export interface Shard {
  /** From 1 to `of`. */
  readonly number: number;
  readonly of: number;
}

export function readShard(text: string): Shard | undefined {
  const [, number, of] = /^(\d{1,6})\/(\d{1,6})$/.exec(text) ?? [];
  const shard = { number: Number(number), of: Number(of) };
  return shard.number >= 1 && shard.number <= shard.of ? shard : undefined;
}

export function isInShard(name: string, { number, of }: Shard): boolean {
  // Forty-eight bits: exact as a number, and far more than shards.
  const hash = createHash('sha256').update(name.normalize('NFC')).digest().readUIntBE(0, 6);
  return hash % of === number - 1;
}

/** How far a batch is, as one line of a terminal: a bar, counts, and the time that is left at the pace so far. */
export interface BatchProgress {
  readonly done: number;
  readonly of: number;
  readonly refused: number;
  readonly failed: number;
  readonly elapsed_s: number;
}

const BAR = 24;

export function formatProgress({ done, of, refused, failed, elapsed_s }: BatchProgress): string {
  const filled = of === 0 ? BAR : Math.floor((BAR * done) / of);
  const bar = `${'#'.repeat(filled)}${'.'.repeat(BAR - filled)}`;
  const left = done === 0 || done === of ? null : formatDuration((elapsed_s / done) * (of - done));
  return translateCommand('progress-batch', { bar, done, count: of, refused, failed, left });
}

export function formatDuration(seconds: number): string {
  const whole = Math.max(1, Math.round(seconds));
  if (whole < 100) return translateCommand('seconds', { seconds: whole });
  const minutes = Math.round(whole / 60);
  return minutes < 100
    ? translateCommand('minutes', { minutes })
    : translateCommand('hours', { hours: Math.floor(minutes / 60), minutes: minutes % 60 });
}
