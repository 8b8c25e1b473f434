/** Kills programs that save entries, again and again at random moments, and looks at what is left. */
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { openLogbook } from '../../src/logbook/open-logbook.ts';
import { type Problem, verifyLogbook } from '../../src/logbook/verify-logbook.ts';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import { buildProgram } from '../build-program.ts';

/** A program is killed after it has said of at most so many entries that they are safe, */
const MOST_SAVED = 2;
/** and then at the latest after so many times what one of them took; or after this, where it has not saved any. */
const LATEST = 1.2;
const LATEST_MS = 250;
/** How often, in kills, everything that was ever saved is hashed again. */
const WHOLE_LOOK = 100;

export interface KillOrder {
  readonly kills: number;
  readonly seed: number;
  /** Programs that write into the same logbook at the same time. */
  readonly writers?: number;
  readonly onKill?: (done: number) => void;
}

export interface KillReport {
  readonly kills: number;
  /** Entries that were reported saved, and those of them that were whole afterwards. */
  readonly told: number;
  readonly whole: number;
  /** Entries that were saved without anybody having been told of it any more. */
  readonly untold: number;
  readonly problems: readonly Problem[];
  /** Files that had to be set aside: there must never be one. */
  readonly quarantine: number;
}

export async function killAndLook({ kills, seed, writers = 1, onKill }: KillOrder): Promise<KillReport> {
  const random = createRandom(seed);
  const place = mkdtempSync(join(tmpdir(), 'kills-'));
  const folder = join(place, 'logbook');
  mkdirSync(join(place, 'photos'));
  const program = await buildProgram('tests/logbook/keep-saving.ts');
  const told = new Set<string>();
  let quarantine = 0;
  try {
    for (let kill = 1; kill <= kills; kill++) {
      const heard = await Promise.all(
        Array.from({ length: writers }, (_, who) =>
          runAndKill(program, [folder, join(place, 'photos'), `${kill}-${who}`], random),
        ),
      );
      for (const id of heard.flat()) told.add(id);
      const opening = await openLogbook({ folder, create: true, softwareVersion: '1' });
      if (opening.outcome === 'refused') throw new Error(`${opening.code} ${JSON.stringify(opening.facts)}`);
      quarantine += opening.logbook.notices.filter(({ code }) => code === 'set-aside').length;
      for (const id of heard.flat()) {
        const found = await opening.logbook.find(id);
        if (found.outcome === 'refused') throw new Error(`told of ${id}, and now ${found.code}`);
      }
      if (kill % WHOLE_LOOK === 0) await requireSound(folder);
      onKill?.(kill);
    }
    const opening = await openLogbook({ folder, softwareVersion: '1' });
    if (opening.outcome === 'refused') throw new Error(opening.code);
    const there = new Set(opening.logbook.list().map(({ id }) => id));
    const { problems } = await verifyLogbook({ folder, softwareVersion: '1' });
    const whole = [...told].filter((id) => there.has(id)).length;
    return { kills: kills * writers, told: told.size, whole, untold: there.size - whole, problems, quarantine };
  } finally {
    rmSync(place, { recursive: true, force: true });
    rmSync(program, { force: true });
  }
}

async function requireSound(folder: string): Promise<void> {
  const { problems } = await verifyLogbook({ folder, softwareVersion: '1' });
  if (problems.length > 0) throw new Error(JSON.stringify(problems.slice(0, 5)));
}

/** What it says until it is killed. */
async function runAndKill(program: string, words: readonly string[], random: RandomSource): Promise<string[]> {
  const saved = Math.floor(random.uniform() * (MOST_SAVED + 1));
  const part = random.uniform() * LATEST;
  const child = spawn(process.execPath, [program, ...words], { stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  let complained = '';
  child.stderr.on('data', (piece) => {
    complained += piece;
  });
  const ended = new Promise<NodeJS.Signals | null>((resolve) => child.on('close', (_code, signal) => resolve(signal)));
  const times_ms: number[] = [];
  const reached = new Promise<void>((resolve) => {
    child.stdout.on('data', (piece) => {
      said += piece;
      while (times_ms.length < said.split('\n').length - 1) times_ms.push(performance.now());
      if (times_ms.length > saved) resolve();
    });
  });
  await Promise.race([reached, ended]);
  const took_ms = times_ms.length > 1 ? times_ms.at(-1)! - times_ms.at(-2)! : LATEST_MS;
  await wait(part * took_ms);
  child.kill('SIGKILL');
  if ((await ended) !== 'SIGKILL') throw new Error(`the program ended by itself: ${complained}`);
  // A line that stops in the middle was not said.
  return said.split('\n').slice(1, -1);
}
