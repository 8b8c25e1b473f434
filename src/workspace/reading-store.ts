/** The readings of the work, `readings/<round>.json`, each exactly as the command line prints it. */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { houseSchema } from '../record/house.ts';
import { type Reading, reading as readingSchema } from '../record/reading.ts';
import { photographRole } from '../record/roles.ts';
import { PRIVATE_FILE_SYSTEM } from '../storage/file-system.ts';
import { writeAtomically } from '../storage/write-atomically.ts';

export class ReadingStore {
  readonly #folder: string;
  #last = 0;

  constructor(folder: string) {
    this.#folder = join(folder, 'readings');
  }

  /** A number that was ever given, also in a list of rounds that was set aside, is not given again. */
  async countFrom(rounds: readonly { readonly number: number }[]): Promise<void> {
    const names = await readdir(this.#folder).catch(() => []);
    const given = names.flatMap((name) => /^(\d+)\.json$/.exec(name)?.[1] ?? []).map(Number);
    this.#last = Math.max(0, ...given, ...rounds.map(({ number }) => number));
  }

  /** The number of the round; on disk when this resolves. `instead`: that of one that told nothing, whose place it takes. */
  async add(reading: Reading, facts: ReadingFacts, instead?: number): Promise<number> {
    if (instead === undefined) this.#last += 1;
    const number = instead ?? this.#last;
    await writeAtomically(join(this.#folder, `${number}.with.json`), `${JSON.stringify(facts)}\n`, PRIVATE_FILE_SYSTEM);
    await writeAtomically(this.#pathOf(number), `${JSON.stringify(reading)}\n`, PRIVATE_FILE_SYSTEM);
    return number;
  }

  /** `undefined` where the file is missing or holds no reading. */
  async readText(number: number): Promise<string | undefined> {
    const text = await readFile(this.#pathOf(number), 'utf8').catch(() => undefined);
    return text !== undefined && parseReading(text) ? text : undefined;
  }

  async read(number: number): Promise<Reading | undefined> {
    const text = await readFile(this.#pathOf(number), 'utf8').catch(() => undefined);
    return text === undefined ? undefined : parseReading(text);
  }

  /** `undefined` where nothing was noted: the round is of an earlier version. */
  async readFacts(number: number): Promise<ReadingFacts | undefined> {
    const text = await readFile(join(this.#folder, `${number}.with.json`), 'utf8').catch(() => undefined);
    try {
      return text === undefined ? undefined : readingFacts.safeParse(JSON.parse(text)).data;
    } catch {
      return undefined;
    }
  }

  #pathOf(number: number): string {
    return join(this.#folder, `${number}.json`);
  }
}

function parseReading(text: string): Reading | undefined {
  try {
    return readingSchema.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}

const wander = z.object({ x: z.number(), y: z.number() }).nullable();

/**
 * What went into a reading besides the program: `readings/<round>.with.json`, written before the reading itself. The house
 * of the work may be another one tomorrow, and a logbook keeps it as it was.
 */
const readingFacts = z.object({
  house: houseSchema.nullable(),
  /** Picture width over height where there was no house. */
  aspect: z.number().nullable(),
  wander_px: wander,
  closing_wander_px: wander,
  shots: z.array(z.object({ role: photographRole, name: z.string(), sha256: z.string() })).readonly(),
});
export type ReadingFacts = z.infer<typeof readingFacts>;
